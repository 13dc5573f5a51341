/** The main screens are clean on desktop and phone, light and dark (clean.ts). */
import { clean } from './clean';
import { expect, openPage, startWriting, test } from './fixtures';

for (const [name, options] of [
  ['desktop', {}],
  ['phone', { phone: true, dark: true }],
] as const) {
  test(`screens, ${name}`, async ({ as, server }) => {
    test.setTimeout(360_000); // two checks of every screen; a slow machine needs half of it
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
      '/club/import',
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
    await page.getByRole('button', { name: 'Keep a copy and make its link' }).click();
    const report = await page.getByRole('textbox', { name: 'Link for the customer' }).first().inputValue();
    await page
      .getByRole('link', { name: /^Word it/ })
      .first()
      .click();
    await clean(page, 'wording a line');
    const open = await page.context().browser()?.newContext();
    const stranger = await open!.newPage();
    await stranger.goto(`${server.url}/sign-in`);
    await clean(stranger, 'sign in');
    await stranger.goto(report);
    await clean(stranger, 'what the customer sees');
    await open!.close();
  });
}
