/** A club is taken away and brought into an empty notebook, through the screens: its pages, its words and its pictures. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
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
    const page = await (await browser.newContext()).newPage();
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
    await page.getByRole('button', { name: 'Bring it in' }).click();
    await expect(page.getByText(/^Brought in: \d+ added/)).toBeVisible({ timeout: 90_000 });
    await page.goto(`${other.url}/machines/tin-orchard`);
    await expect(page.locator('#photos figcaption').first()).toHaveText(/Under the apron/);
    expect(await pagesOf(page)).toEqual(pages);
    expect(sumOf(await (await page.request.get(other.url + source)).body())).toBe(before);
    await page.context().close();
  } finally {
    await other.stop();
  }
});
