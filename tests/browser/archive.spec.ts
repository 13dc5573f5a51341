/** A club is taken away and brought into an empty notebook, through the screens: its pages, its words and its pictures. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import pg from 'pg';
import { startPostgres } from '@/lib/store/postgres';
import { halves } from '../files/images';
import { expect, test } from './fixtures';
import { startServer } from './server';

test('the club goes out with its pictures and comes into an empty notebook as it was', async ({ as, server, browser }) => {
  test.setTimeout(180_000);
  const ines = await as('ines');
  await ines.goto(`${server.url}/machines/tin-orchard/photos/add`);
  const photo = { name: 'field.jpg', mimeType: 'image/jpeg', buffer: await halves(1000, 700).jpeg().toBuffer() };
  await ines.getByLabel('Take or choose a photo').setInputFiles(photo);
  await ines.getByLabel('What it shows').fill('Under the apron');
  await ines.getByRole('button', { name: 'Keep the photo' }).click();
  await expect(ines.getByRole('heading', { level: 1, name: 'Pin on Under the apron' })).toBeVisible();
  await ines.goto(`${server.url}/machines/tin-orchard`);
  const source = (await ines.locator('#photos img').first().getAttribute('src')) ?? '';
  const sumOf = (bytes: Buffer) => createHash('sha256').update(bytes).digest('hex');
  const before = sumOf(await (await ines.request.get(server.url + source)).body());
  const pagesOf = (page: typeof ines) => page.locator('#pages .rows > li').allInnerTexts();
  const pages = await pagesOf(ines);
  await ines.goto(`${server.url}/club`);
  const [download] = await Promise.all([
    ines.waitForEvent('download'),
    ines.getByRole('link', { name: 'Take the whole club away' }).click(),
  ]);
  const archive = readFileSync(await download.path());

  const other = await startServer();
  try {
    let page = await (await browser.newContext()).newPage();
    await page.goto(other.url);
    await page.getByLabel('Name of the club or workshop').fill('Saltmarsh Coin-Op Club');
    await page.getByLabel('Your name').fill('Ines Okafor');
    await page.getByLabel('E-mail').fill('ines@saltmarsh.example');
    await page.getByLabel('Password').fill('a long pass phrase for tests');
    await page.getByRole('button', { name: 'Open the notebook' }).click();
    await expect(page.getByRole('heading', { name: 'On the bench' })).toBeVisible();
    await page.goto(`${other.url}/club`);
    await page.getByRole('link', { name: 'Bring an archive in' }).click();
    await page.getByLabel('Archive').setInputFiles({ name: 'club.zip', mimeType: 'application/zip', buffer: archive });
    const take = '**/club/import/take';
    await page.route(take, () => {}); // never arrives
    await page.getByRole('button', { name: 'Look into it' }).click();
    await expect(page.getByRole('button', { name: 'Look into it' })).toBeDisabled();
    await page.getByRole('button', { name: 'Stop' }).click();
    await expect(page.getByRole('alert')).toHaveText('Stopped. Nothing was kept, and your file is as it was.');
    await page.unroute(take);
    await page.route(take, (route) => route.abort());
    await page.getByRole('button', { name: 'Look into it' }).click();
    await expect(page.getByRole('alert')).toContainText('It did not arrive: the network or the server went away.');
    await page.unroute(take);
    await page.getByRole('button', { name: 'Look into it' }).click();
    await expect(page.getByText(/\d+ new, 0 the same here, 0 otherwise here\./)).toBeVisible();
    await page.getByText('Which').click();
    await expect(page.getByRole('listitem').filter({ hasText: /picture/ })).toBeVisible();
    const address = page.url();
    const held = new pg.Client((await startPostgres(other.dataDir)).connection);
    await held.connect();
    await held.query('begin; lock table page in exclusive mode'); // until then no page can be added
    await page.getByRole('button', { name: 'Bring it in' }).click();
    await expect(page.getByText(/^Step 3 of 4, charts, pages and stock: \d+ of \d+\.$/)).toBeVisible({ timeout: 30_000 });
    await expect(page.getByRole('progressbar', { name: 'Brought in' })).toBeVisible();
    await expect(page.getByRole('button', { name: 'Bring it in' })).toHaveCount(0);
    await page.close(); // the server goes on without it

    const plain = await browser.newContext({ javaScriptEnabled: false, storageState: await page.context().storageState() });
    const still = await plain.newPage();
    await still.goto(`${other.url}/club/import`);
    await still.getByRole('link', { name: /^Step 3 of 4/ }).click();
    await still.getByRole('link', { name: 'See how far it is now' }).click();
    await expect(still.getByText(/^Step 3 of 4/)).toBeVisible();
    page = await page.context().newPage();
    await page.goto(address);
    await expect(page.getByText(/^Step 3 of 4/)).toBeVisible();
    await held.query('commit');
    await held.end();
    const brought = /^Brought in: \d+ added\.$/;
    await expect(page.getByText(brought)).toBeVisible({ timeout: 90_000 }); // without a reload
    await expect(page.getByText(brought)).toBeFocused();
    await expect(page.getByText(/^0 new, \d+ the same here, 0 otherwise here\./)).toBeVisible();
    await expect(page.getByRole('link', { name: 'To the machines' })).toBeVisible();
    await still.reload();
    await expect(still.getByText(brought)).toBeVisible();
    await plain.close();
    await page.goto(`${other.url}/machines/tin-orchard`);
    await expect(page.locator('#photos figcaption').first()).toHaveText(/Under the apron/);
    expect(await pagesOf(page)).toEqual(pages);
    expect(sumOf(await (await page.request.get(other.url + source)).body())).toBe(before);
    await page.context().close();
  } finally {
    await other.stop();
  }
});
