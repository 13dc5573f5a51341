/** The fault finder and the proof test on a telephone: three ticks and the suspects change; presses of two people add up. */
import { expect, openPage, saved, startWriting, test } from './fixtures';

const story = 'Spinner misses counts when warm';

test('three ticks on a phone, and the suspects change at each', async ({ as, server }) => {
  test.setTimeout(60_000);
  const page = await as('wen', { phone: true });
  await page.goto(`${server.url}/pages/new?machine=lantern-regatta-3`);
  await page.getByLabel('What is wrong, in one line').fill('Spinner is dead');
  await page.getByRole('button', { name: 'Start' }).click();
  await page.getByRole('button', { name: 'Add to this page' }).click();
  await page.getByRole('button', { name: /^Fault finder/ }).click();
  const finder = page.locator('[data-kind="fault-finder"]');
  // Nobody has touched the text: the widget goes below the title, not before it.
  await expect(finder).toBeVisible();
  await expect(page.locator('.ProseMirror > *').first()).toHaveText('Spinner is dead');
  const which = finder.getByRole('combobox', { name: /^Add what you saw/ });
  const suspects = finder.locator('.suspects');
  const see = async (number: string, choice: string) => {
    await which.fill(number);
    await finder
      .locator('.finder-add')
      .getByRole('button', { name: new RegExp(`^${choice}`) })
      .tap();
  };
  await see('46', 'Never registers');
  await expect(finder).toContainText('Not enough to tell yet');
  await expect(suspects).toContainText('Contact of 46');
  const first = await suspects.textContent();
  await see('44', 'Registers');
  await expect.poll(() => suspects.textContent()).not.toBe(first);
  const second = await suspects.textContent();
  await see('26', 'Registers');
  await expect.poll(() => suspects.textContent()).not.toBe(second);
  await expect(suspects.locator('li').first()).toContainText('Contact of 46');
  // The box for the next test never asks for one that was done.
  await expect(finder.getByRole('region', { name: 'Next test' })).not.toContainText('Press 44 Right sling, 3 times');
  const width = await page.evaluate(() => document.documentElement.scrollWidth);
  expect(width).toBeLessThanOrEqual(390);
  await saved(page);
});

test('two people press at once and no press is lost', async ({ as, server }) => {
  const [ines, tomas] = await Promise.all([as('ines', { phone: true }), as('tomas')]);
  await Promise.all([openPage(ines, server.url, story), openPage(tomas, server.url, story)]);
  await Promise.all([startWriting(ines), startWriting(tomas)]);
  const press = (page: typeof ines) => page.locator('[data-kind="proof-test"]').getByRole('button', { name: /^Clean press/ });
  const count = (page: typeof ines) => page.locator('[data-kind="proof-test"] .proof-count');
  await expect(count(ines)).toHaveText('18');
  await Promise.all([press(ines).tap(), press(tomas).click()]);
  await press(ines).tap();
  for (const page of [ines, tomas]) await expect(count(page)).toHaveText('21');
  await saved(ines);
});
