/** What is not there, or not yours, says so in words, with scripts switched off too; every reading screen works without them. */
import { emailOf, expect, password, test } from './fixtures';

test('a page, a machine and a report that are not there', async ({ as, server }) => {
  const page = await as('priya');
  for (const path of ['/pages/zzz', '/machines/nope', '/nowhere', '/pages/new']) {
    expect((await page.goto(server.url + path))?.status(), path).toBe(404);
    await expect(page.getByRole('heading', { level: 1, name: 'Not here' })).toBeVisible();
  }
  expect((await page.goto(`${server.url}/report/guessed`))?.status()).toBe(404);
  await expect(page.getByRole('heading', { level: 1, name: 'This link does not open' })).toBeVisible();
});

test('the main screens work without scripts', async ({ browser, server }) => {
  const page = await (await browser.newContext({ javaScriptEnabled: false })).newPage();
  await page.goto(`${server.url}/sign-in`);
  await page.getByLabel('E-mail').fill(emailOf('tomas'));
  await page.getByLabel('Password').fill('not the password');
  await page.getByRole('button', { name: 'Sign in' }).click();
  await expect(page.getByRole('alert')).toContainText('do not match');
  await expect(page.getByLabel('E-mail')).toHaveValue(emailOf('tomas'));
  await page.getByLabel('Password').fill(password);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await expect(page.getByRole('heading', { name: 'On the bench' })).toBeVisible();
  await page.locator('#clue').fill('grey-orange');
  await page.locator('#clue').press('Enter');
  await expect(page.locator('.result').first()).toContainText('grey/orange');
  await page.goto(`${server.url}/machines/lantern-regatta-3?clue=A3J4-7`);
  await expect(page.getByText('A3J4-7').first()).toBeVisible();
  await page.getByText('Contact openings').first().click();
  expect(await page.locator('script:not([data-keep])').count()).toBe(0);
  await page.context().close();
});
