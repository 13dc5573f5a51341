/** A bench sheet, a map and flags as PDFs: from where they are needed, for who may read them, with clear words when there is none. */
import { readPdf } from '../print/read-pdf';
import { expect, test } from './fixtures';

test('a plan gives its bench sheet on both papers, a machine its map and its flags', async ({ as, server }) => {
  const page = await as('ines');
  await page.goto(`${server.url}/search?q=${encodeURIComponent('Spinner misses counts when warm')}`);
  await page
    .getByRole('link', { name: /Spinner misses counts when warm/ })
    .first()
    .click();
  await expect(page).toHaveURL(/\/pages\/[^/]+$/);
  const links = page.getByRole('group', { name: 'Bench sheet' }).getByRole('link');
  await expect(links).toHaveText(['A4', 'Letter']);
  const height = async () => (await links.first().boundingBox())?.height ?? 0;
  expect(await height()).toBeGreaterThanOrEqual(44);
  const sheet = await links.first().getAttribute('href');
  for (const [paper, width] of [
    ['a4', 210],
    ['letter', 215.9],
  ] as const) {
    const answer = await page.request.get(`${server.url}${sheet?.replace('a4', paper)}`);
    expect(answer.headers()['content-type']).toBe('application/pdf');
    const pdf = await readPdf(await answer.body());
    expect(pdf.pages[0]?.widthMm).toBeCloseTo(width, 1);
    expect(pdf.pages[0]?.text).toContain('Bench sheet');
    expect(pdf.pages[0]?.text).toContain(page.url());
  }
  const said = async (path: string) => {
    const answer = await page.request.get(server.url + path);
    return `${answer.status()} ${await answer.text()}`;
  };
  expect(await said(`${sheet?.replace('a4', 'a3')}`)).toBe('400 paper: there is no such paper. Write paper=a4 or paper=letter.');
  expect(await said(`${new URL(page.url()).pathname}/sheet/nothing.pdf`)).toContain('404 This page has no connector plan nothing.');
  expect(await said('/pages/nowhere/sheet/plan.pdf')).toContain('404 There is no page nowhere.');
  expect(await said('/machines/lantern-regatta-3/flags.pdf?width=500')).toBe('400 width: write 60 mm or less.');
  expect(await said('/machines/lantern-regatta-3/flags.pdf?header=A9J9')).toContain('404 header: ');

  await page.goto(`${server.url}/machines/lantern-regatta-3`);
  const map = await page
    .getByRole('group', { name: 'Map as PDF' })
    .getByRole('link', { name: /Letter/ })
    .getAttribute('href');
  expect((await readPdf(await (await page.request.get(server.url + map)).body())).title).toBe('Map of Lantern Regatta, no. 3');
  await page.getByText('Wire flags to cut out').click();
  await page.getByLabel('Connector', { exact: true }).selectOption('A3J4');
  const [flags] = await Promise.all([page.waitForRequest(/flags\.pdf/), page.getByRole('button', { name: 'Make the flags' }).click()]);
  const read = await readPdf(await (await page.request.get(flags.url())).body());
  expect(read.pages[0]?.text).toContain('A3J4-7');
});

test('without signing in there is no sheet, map or flags', async ({ request, server }) => {
  for (const path of ['/pages/any/sheet/plan.pdf', '/machines/lantern-regatta-3/map.pdf', '/machines/lantern-regatta-3/flags.pdf']) {
    const answer = await request.get(server.url + path);
    expect(answer.status(), path).toBe(401);
    expect(await answer.text()).toBe('Sign in first.');
  }
});
