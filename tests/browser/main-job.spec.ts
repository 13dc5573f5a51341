/** The main job as a newcomer would do it: from the customer's words to the write-up, and the fix found again. */
import { expect, saved, test } from './fixtures';

test('search, start a page, look up, plan, record, write up, find again', async ({ as, server, browser }) => {
  test.setTimeout(240_000);
  const page = await as('wen');

  // Seen before? The customer's words, then the wire, in the one box.
  await page.locator('#clue').fill('spinner counts sometimes grey-orange');
  await page.locator('#clue').press('Enter');
  await expect(page.getByRole('heading', { level: 1, name: 'Seen before' })).toBeVisible();
  await expect(page.locator('.result').first()).toContainText('grey/orange');

  // Start a page.
  await page.goto(`${server.url}/pages/new?machine=kestrel-post-1`);
  await page.getByLabel('What is wrong, in one line').fill('Ferry bell rings only now and then');
  await page.getByRole('button', { name: 'Start' }).click();
  const sheet = page.locator('.ProseMirror');
  await expect(sheet.locator('h1')).toHaveText('Ferry bell rings only now and then');

  // Circuit lookup in the new page: a wire pair answers with a line, a pin with its circuits.
  const clue = page.getByRole('textbox', { name: 'Number, name, colours or pin' });
  await clue.fill('A3J4-7');
  await expect(sheet).toContainText('grey/orange');

  // A connector plan by "/".
  await sheet.locator('> p').last().click();
  await page.keyboard.press('End');
  await page.keyboard.press('Enter');
  await page.keyboard.type('/connector');
  await page.keyboard.press('Enter');
  await page.getByRole('combobox', { name: 'Header' }).selectOption('A3J4');
  await expect(page.getByText(/cut/i).first()).toBeVisible();
  await page.getByRole('checkbox', { name: 'Position 1 seated' }).click();
  await expect(page.getByRole('checkbox', { name: 'Position 4 tugged' })).toHaveCount(0); // the key
  await expect(page.getByRole('checkbox', { name: 'Position 1 seated' })).toBeChecked();

  // The fix record.
  await page.getByRole('textbox', { name: 'Symptom' }).fill('rings one time in five');
  await page.getByRole('combobox', { name: 'Cause' }).selectOption('worn-contact');
  await page.getByRole('textbox', { name: 'Place' }).fill('A3J4-7');
  await page.getByRole('textbox', { name: 'Remedy' }).fill('housing replaced and crimped');
  await page.getByRole('radio', { name: 'Mended', exact: true }).check();
  await saved(page);

  // Findable within two seconds of being saved, by the wire that its text never names.
  const id = new URL(page.url()).pathname.split('/')[2];
  await expect
    .poll(
      async () =>
        (
          (await (await page.request.get(`${server.url}/api/search?q=gy+og&limit=50`)).json()) as { results: { page: string }[] }
        ).results.map((r) => r.page),
      { timeout: 2_000, intervals: [100] },
    )
    .toContain(id);

  // The write-up, behind a link that needs no account and can be taken back.
  await page.goto(`${server.url}/pages/${id}/write-up`);
  await expect(page.locator('.write-up')).toContainText('rings one time in five');
  await page.getByRole('button', { name: 'Keep a copy and make its link' }).click();
  const link = await page.getByRole('textbox', { name: 'Link for the customer' }).first().inputValue();
  const customer = await (await browser.newContext()).newPage();
  await customer.goto(link);
  await expect(customer.locator('.write-up')).toContainText('housing replaced and crimped');
  await expect(customer.getByRole('navigation')).toHaveCount(0);
  const leads = await customer.getByRole('link').evaluateAll((all) => all.map((a) => (a as HTMLAnchorElement).href));
  expect(leads.filter((to) => !to.startsWith(`${link}/write-up.pdf`))).toEqual([]); // to its paper and nowhere else
  await page.reload();
  await page.getByRole('button', { name: 'Take it back' }).click();
  await expect(page.getByRole('textbox', { name: 'Link for the customer' })).toHaveCount(0);
  expect((await customer.goto(link))?.status()).toBe(404);
});
