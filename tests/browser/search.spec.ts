/** Past fixes by symptom, on a phone: found while one types, read back, corrected, narrowed, kept. */
import { expect, test } from './fixtures';

test('a symptom in a customer’s words finds the fix while it is typed; its reading is shown and put right', async ({ as, server }) => {
  const ines = await as('ines', { phone: true });
  await ines.goto(`${server.url}/search`);
  await ines.getByLabel(/^What it does/).pressSequentially('left flap weak');
  const first = ines.locator('.result h3 a').first();
  await expect(first).toHaveText('left flipper lazy');
  await expect(ines).toHaveURL(/q=left%20flap%20weak$/);
  const reading = ines.getByRole('region', { name: 'How this was read' });
  await expect(reading).toContainText('left flipper');
  await reading.getByRole('link', { name: 'Not meant: weak' }).click();
  await expect(reading.locator('ul').first()).not.toContainText('weak');
  await reading.getByText('Meant otherwise').click();
  await reading.getByLabel('What it does').selectOption('hot');
  await reading.getByRole('button', { name: 'Search again' }).click();
  await expect(reading.locator('ul').first()).toContainText('hot');
});

test('a word that is still being typed is completed, and that is shown', async ({ as, server }) => {
  const ines = await as('ines', { phone: true });
  await ines.goto(`${server.url}/search`);
  await ines.getByLabel(/^What it does/).pressSequentially('spinn');
  const reading = ines.getByRole('region', { name: 'How this was read' });
  await expect(reading).toContainText('spinner for “spinn”');
  await expect(ines.locator('.result h3 a').first()).toContainText(/spinner/i);
});

test('what is both a device and a name on a chart is read back once, and struck out with both', async ({ as, server }) => {
  const ines = await as('ines', { phone: true });
  await ines.goto(`${server.url}/search?q=left flipper weak`);
  const reading = ines.getByRole('region', { name: 'How this was read' });
  await expect(reading.locator('ul').first()).toHaveText(/left flipper/);
  await reading.getByRole('link', { name: 'Not meant: left flipper' }).click(); // strict: there is one
  await expect(reading.locator('ul').first()).not.toContainText('flipper');
});

test('results are narrowed, and a search is kept and forgotten', async ({ as, server }) => {
  const ines = await as('ines', { phone: true });
  await ines.goto(`${server.url}/search?q=grey-orange`);
  await expect(ines.getByText(/^Of \d+ like this:/)).toBeVisible();
  const all = await ines.locator('.result').count();
  await ines.getByText('Show only some of them').click();
  await ines.getByRole('link', { name: 'Kestrel Post, no. 1' }).click();
  await expect(ines.getByRole('link', { name: /^No longer only Kestrel Post/ })).toBeVisible();
  expect(await ines.locator('.result').count()).toBeLessThan(all);
  await ines.getByText('Keep this search').click();
  await ines.getByLabel('Under which name').fill('The grey one on the Kestrel');
  await ines.getByRole('button', { name: 'Keep', exact: true }).click();
  await ines.goto(`${server.url}/search`);
  await ines.getByRole('link', { name: 'The grey one on the Kestrel' }).click();
  await expect(ines.getByRole('link', { name: /^No longer only Kestrel Post/ })).toBeVisible();
  await ines.goto(`${server.url}/search`);
  await ines.getByRole('button', { name: 'Forget the search The grey one on the Kestrel' }).click();
  await expect(ines.getByText('The grey one on the Kestrel')).toHaveCount(0);
});
