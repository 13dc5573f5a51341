/** The customer's write-up on a phone: worded, found stale, sent, opened without an account, taken back. */
import { readPdf } from '../print/read-pdf';
import { expect, openPage, saved, test } from './fixtures';

test('a worded line says when its facts change; what was sent stays as it was until it is taken back', async ({ as, server, browser }) => {
  test.setTimeout(240_000);
  const page = await as('ines', { phone: true });
  await openPage(page, server.url, 'cart runs into the fence'); // no other test sends this one
  const id = new URL(page.url()).pathname.split('/')[2];
  const writeUp = `${server.url}/pages/${id}/write-up`;
  const words = 'The cart goes on when it should stop.';

  // Word a line.
  await page.goto(writeUp);
  const wrong = page.locator('#write-up-complaint');
  await wrong.getByRole('link', { name: /^Word it/ }).click();
  await page.getByLabel('What the customer reads').fill(words);
  await page.getByRole('button', { name: 'Keep these words' }).click();
  await expect(wrong).toContainText(words);
  await expect(wrong).toContainText('Worded by Ines');
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);

  // Change a fact: it is said, and nothing goes out before somebody has looked.
  await page.goto(`${server.url}/pages/${id}/write`);
  await page.getByRole('textbox', { name: 'Symptom' }).fill('Stops too late, now and then');
  await saved(page);
  await page.goto(writeUp);
  await expect(page.getByRole('status').filter({ hasText: 'One line was worded before' })).toBeVisible();
  await expect(wrong).toContainText('Now: “Stops too late, now and then”.');
  await page.getByRole('button', { name: 'Keep a copy and make its link' }).click();
  await expect(page.getByRole('alert')).toContainText('A line was worded before the facts under it changed');
  expect((await page.request.get(`${writeUp}.pdf`)).status()).toBe(409);
  await page.goto(writeUp);
  await wrong.getByRole('link', { name: /^Look at it/ }).click();
  await page.getByRole('button', { name: 'The words still hold' }).click();
  await expect(wrong).not.toContainText('The facts changed');

  // Send it, with a pass phrase.
  await page.getByLabel('Pass phrase').fill('Four tin larks');
  await page.getByRole('button', { name: 'Keep a copy and make its link' }).click();
  const link = await page.getByRole('textbox', { name: 'Link for the customer' }).inputValue();
  await wrong.getByRole('link', { name: /^Word it/ }).click();
  await page.getByLabel('What the customer reads').fill('Something else by now.');
  await page.getByRole('button', { name: 'Keep these words' }).click();
  await expect(page.locator('#sent')).toContainText('The write-up above differs from it now.');

  // The customer, without an account.
  const customer = await (await browser.newContext({ viewport: { width: 390, height: 844 }, colorScheme: 'dark' })).newPage();
  await customer.goto(link);
  await expect(customer.locator('.write-up')).toHaveCount(0);
  await customer.getByLabel('Pass phrase').fill('four tin crows');
  await customer.getByRole('button', { name: 'Open it' }).click();
  await expect(customer.getByRole('alert')).toContainText('not the pass phrase');
  await customer.getByLabel('Pass phrase').fill('four tin larks');
  await customer.getByRole('button', { name: 'Open it' }).click();
  await expect(customer.locator('.write-up')).toContainText(words);
  await expect(customer.locator('.write-up')).not.toContainText('Something else by now.');
  const answer = await customer.reload();
  expect(answer?.headers()).toMatchObject({
    'x-robots-tag': expect.stringContaining('noindex'),
    'referrer-policy': 'no-referrer',
    'cache-control': 'no-store',
  });
  const href = await customer.getByRole('link', { name: 'As a PDF, Letter, PDF' }).getAttribute('href');
  const pdf = await customer.request.get(new URL(href ?? '', server.url).href);
  expect(pdf.headers()).toMatchObject({ 'content-type': 'application/pdf', 'x-robots-tag': expect.stringContaining('noindex') });
  const read = await readPdf(await pdf.body());
  expect(read.marked).toBe(true);
  expect(read.pages.map(({ text }) => text).join('\n')).toContain(words);

  // Somebody guesses: it locks and says why, and its maker unlocks it.
  const guesser = await (await browser.newContext()).newPage();
  for (let n = 0; n < 10; n++) await guesser.request.post(`${link}/open`, { form: { phrase: `a guess, no. ${n}` } });
  await guesser.goto(link);
  await expect(guesser.getByRole('heading', { name: 'This write-up is locked' })).toBeVisible();
  await expect(guesser.getByText('10 wrong pass phrases were tried in a row.')).toBeVisible();
  await page.reload();
  await expect(page.locator('#sent')).toContainText('Locked: 10 wrong pass phrases were tried in a row.');
  await page.getByRole('button', { name: 'Unlock it' }).click();
  await expect(page.locator('#sent')).toContainText('with its pass phrase');
  await guesser.reload();
  await guesser.getByLabel('Pass phrase').fill('four tin larks');
  await guesser.getByRole('button', { name: 'Open it' }).click();
  await expect(guesser.locator('.write-up')).toContainText(words);

  // Its maker sees that it was opened, and takes it back.
  await page.reload();
  await expect(page.locator('#sent')).toContainText('Opened 3 times');
  await page.getByRole('button', { name: 'Take it back' }).click();
  await expect(page.locator('#sent')).toContainText('Taken back on');
  const after = await customer.reload();
  expect(after?.status()).toBe(404);
  expect(after?.headers()).toMatchObject({ 'x-robots-tag': expect.stringContaining('noindex'), 'referrer-policy': 'no-referrer' });
  await expect(customer.getByRole('heading', { name: 'This link does not open' })).toBeVisible();
});
