/** axe (WCAG 2.2 A and AA) finds nothing on the main screens, light and dark, phone and desktop; nothing overflows sideways. */
import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { expect, openPage, startWriting, test } from './fixtures';

const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
async function clean(page: Page, where: string) {
  const { violations } = await new AxeBuilder({ page }).withTags(tags).analyze();
  expect(
    violations.map(
      (v) =>
        `${where}: ${v.id}: ${v.nodes
          .map((n) => n.target.join(' '))
          .slice(0, 3)
          .join(' | ')}`,
    ),
  ).toEqual([]);
  const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  expect(over, `${where} overflows sideways`).toBeLessThanOrEqual(0);
}

for (const [name, options] of [
  ['desktop light', {}],
  ['desktop dark', { dark: true }],
  ['phone light', { phone: true }],
  ['phone dark', { phone: true, dark: true }],
] as const) {
  test(`screens, ${name}`, async ({ as, server }) => {
    test.setTimeout(180_000);
    const page = await as('ines', options);
    for (const path of [
      '/',
      '/machines',
      '/machines/lantern-regatta-3',
      '/machines/tin-orchard?circuit=12',
      '/search',
      '/search?q=spinner+grey-orange',
      '/parts',
      '/club',
      '/pages/new',
      '/machines/new',
      '/designs/new',
      '/machines/lantern-regatta-3/enter',
      '/designs/SB-2/enter',
    ]) {
      await page.goto(server.url + path);
      await clean(page, path);
    }
    await page.goto(`${server.url}/machines/tin-orchard/enter`);
    await expect(page.getByRole('grid')).toBeVisible();
    await page.getByLabel(/A matrix, a switch list/).fill('No.\tName\tWire\n11\tGull lane\tgy-og\n12\tTern gate\tnot a wire\n');
    await expect(page.locator('.paste-table')).toBeVisible();
    await clean(page, 'what was understood of a paste');
    await openPage(page, server.url, 'Spinner misses counts when warm');
    await clean(page, 'reading');
    await startWriting(page);
    await expect(page.locator('.ProseMirror')).toContainText('Order of work');
    await clean(page, 'writing');
    await page.getByRole('button', { name: 'Add to this page' }).click();
    await expect(page.getByRole('dialog')).toBeVisible();
    await clean(page, 'add menu');
    await page.keyboard.press('Escape');
    await page.getByRole('link', { name: 'Write-up' }).first().click();
    await expect(page.locator('.write-up')).toBeVisible();
    await clean(page, 'write-up');
    const open = await page
      .context()
      .browser()
      ?.newContext({ colorScheme: 'dark' in options ? 'dark' : 'light' });
    const stranger = await open!.newPage();
    await stranger.goto(`${server.url}/sign-in`);
    await clean(stranger, 'sign in');
    await open!.close();
  });
}

/** Of a machine, its chart and its board design. */
const ofMachines = [
  '/machines/lantern-regatta-3/map',
  '/machines/lantern-regatta-3/found',
  '/machines/lantern-regatta-3/found?clue=circuit:46',
  '/machines/lantern-regatta-3/found/right-sling-row',
  '/machines/lantern-regatta-3/versions',
  '/machines/lantern-regatta-3/versions/compare?with=design',
  '/machines/lantern-regatta-3/versions/compare?with=kestrel-post-1',
  '/machines/lantern-regatta-3/copy',
  '/designs/SB-2',
  '/designs/SB-2/versions',
  '/designs/SB-2/copy',
];
for (const [name, options] of [
  ['desktop light', {}],
  ['phone dark', { phone: true, dark: true }],
] as const) {
  test(`screens of machines, ${name}`, async ({ as, server }) => {
    test.setTimeout(180_000);
    const page = await as('ines', options);
    for (const path of ofMachines) {
      await page.goto(server.url + path);
      await clean(page, path);
    }
  });
}
