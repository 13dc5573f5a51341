/** A machine's map, what was found on it, its versions: read and written without scripts, on a phone and on paper. */
import type { Browser, Page } from '@playwright/test';
import { expect, signIn, test } from './fixtures';

const regatta = '/machines/lantern-regatta-3';

/** A member's phone with scripts switched off: still screens work all the same. */
async function scriptless(browser: Browser, url: string): Promise<Page> {
  const context = await browser.newContext({ javaScriptEnabled: false, viewport: { width: 390, height: 844 } });
  const page = await context.newPage();
  await signIn(page, url, 'ines');
  return page;
}

test('the map leads from a cell to its circuit and says what is open and what was mended', async ({ browser, server }) => {
  const page = await scriptless(browser, server.url);
  await page.goto(server.url + regatta);
  const map = page.locator('#matrix');
  const cell = map.getByRole('link', { name: /^46 Spinner, column 4 violet\/yellow, row 6 grey\/orange/ }).and(page.locator(':visible'));
  await expect(cell).toHaveCount(1);
  await expect(cell).toHaveAccessibleName(/\d open faults?, \d past fix/);
  const box = await cell.boundingBox();
  expect(Math.min(box?.width ?? 0, box?.height ?? 0)).toBeGreaterThanOrEqual(44);
  // Rows keep their wire in code letters while the cells move under them.
  await expect(map.locator('.row-heads').getByText('ORN')).toBeVisible();
  await cell.click();
  await expect(page).toHaveURL(/circuit=46#ask$/);
  await expect(page.locator('#ask .bignum')).toHaveText('46');
  await expect(page.locator('#ask').getByRole('link', { name: 'Spinner misses counts when warm' })).toBeVisible();
  await expect(page.locator('#lamps').getByRole('link', { name: /^11 / }).and(page.locator(':visible'))).toHaveCount(1);
  await expect(page.locator('#rest')).toContainText('F3, 4 A slow: Coil supply, 52 V');
  await page.context().close();
});

test('arrow keys go from cell to cell, past what is not used', async ({ as, server }) => {
  const page = await as('ines');
  await page.goto(server.url + regatta);
  const at = () => page.evaluate(() => document.activeElement?.getAttribute('aria-label')?.split(' ')[0]);
  await page.locator('#matrix .wide-form a.cell').first().focus();
  const first = await at();
  await page.keyboard.press('ArrowDown');
  expect(await at()).not.toBe(first);
  await page.keyboard.press('ArrowUp');
  expect(await at()).toBe(first);
  await page.locator('#matrix .wide-form').getByRole('link', { name: /^47 / }).focus();
  await page.keyboard.press('ArrowRight'); // column 5 has nothing in row 7
  expect(await at()).toBe('67');
  await page.keyboard.press('Home');
  expect(await at()).toBe('17');
  await page.keyboard.press('End');
  expect(await at()).toBe('87');
  await page.keyboard.press('ArrowRight');
  expect(await at()).toBe('87');
  await page.keyboard.press('Enter');
  await expect(page).toHaveURL(/circuit=87/);
});

test('the map prints the switches on one sheet, A4 and Letter, and the lamps on another', async ({ as, server }) => {
  const page = await as('ines');
  for (const id of ['lantern-regatta-3', 'kestrel-post-1', 'tin-orchard']) {
    await page.goto(`${server.url}/machines/${id}/map`);
    const lamps = await page.locator('.map-sheet').count();
    for (const format of ['A4', 'Letter']) {
      const pdf = (await page.pdf({ format, preferCSSPageSize: false })).toString('latin1');
      expect(pdf.match(/\/Type \/Page\b/g)?.length, `${id} ${format}`).toBe(lamps);
    }
  }
});

test('a difference is noted, shown beside the chart, and withdrawn; an earlier version comes back', async ({ browser, server }) => {
  test.setTimeout(240_000);
  const page = await scriptless(browser, server.url);
  const url = server.url;
  await page.goto(`${url}${regatta}?circuit=46`);
  await page.getByRole('link', { name: 'It is otherwise here' }).click();
  await page.getByLabel('Where, as the chart has it').selectOption({ label: 'A3J4-7 carries Row 6, grey/orange' });
  await page.getByLabel('Colour of the wire').fill('bl');
  await page.getByLabel('Since when').fill('2019');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await expect(page.getByText('That could be black or blue. Write the names in full.')).toBeVisible();
  await expect(page.getByLabel('Since when')).toHaveValue('2019'); // nothing typed is lost
  await page.getByLabel('Colour of the wire').fill('white');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await expect(page).toHaveURL(/#as-found$/);
  const found = page.locator('#found-a3j4-7');
  await expect(found).toContainText('The wire is white');
  await expect(found).toContainText('So since 2019. Ines Okafor');

  // Both colours at the circuit, and a search finds either.
  await page.goto(`${url}${regatta}?circuit=46`);
  await expect(page.locator('#ask .lines')).toContainText(/grey\/orange\s*found here\s*white/);
  await page.goto(`${url}${regatta}?clue=A3J4-7`);
  await expect(page.locator('#ask .positions .chosen')).toContainText('found here: white');
  await expect
    .poll(async () => {
      await page.goto(url + regatta);
      return page.getByText('pages are computed again').count();
    })
    .toBe(0);

  // The version list tells it, and bringing back names the pages that change before anything is saved.
  await page.getByRole('link', { name: 'Versions, compare, copy' }).click();
  await expect(page.locator('#v2')).toContainText('Found on the machine a3j4-7: added: The wire is white.');
  await page.locator('#v2').getByRole('link', { name: 'What changed' }).click();
  await expect(page.locator('.changes')).toContainText('The wire is white');
  await page.goBack();
  await page.locator('#v1').getByRole('link', { name: 'Bring back' }).click();
  await expect(page.getByText(/^\d+ of \d+ pages would mean something else/)).toBeVisible();
  await expect(page.getByRole('link', { name: /Spinner misses counts when warm/ })).toContainText('no longer: white');
  await page.getByRole('link', { name: 'Leave it as it is' }).click();

  await page.goto(`${url}${regatta}/found/a3j4-7`);
  await page.getByLabel('Why it no longer holds').fill('Put back to grey/orange.');
  await page.getByRole('button', { name: 'Withdraw it' }).click();
  await expect(page).toHaveURL(/#as-found$/);
  await page.locator('#as-found summary').click();
  await expect(page.locator('#found-a3j4-7')).toContainText('Withdrawn: Put back to grey/orange. Ines Okafor');
  await page.goto(`${url}${regatta}?circuit=46`);
  await expect(page.locator('#ask .lines')).not.toContainText('found here');

  await page.goto(`${url}${regatta}/versions/restore?version=2`);
  await page.getByRole('button', { name: 'Bring it back' }).click();
  await expect(page.locator('#v4')).toContainText('as it is now');
  await page.goto(`${url}${regatta}?circuit=46`);
  await expect(page.locator('#ask .lines')).toContainText('found here');

  // As it was: other tests ask this server for the wire as the chart has it.
  await page.goto(`${url}${regatta}/versions/restore?version=1`);
  await page.getByRole('button', { name: 'Bring it back' }).click();
  await expect(page.locator('#v5')).toContainText('as it is now');
  await page.goto(`${url}${regatta}?circuit=46`);
  await expect(page.locator('#ask .lines')).not.toContainText('found here');
  await page.context().close();
});

test('a machine is copied, and compared with another and with its board design', async ({ browser, server }) => {
  const page = await scriptless(browser, server.url);
  await page.goto(`${server.url}/machines/kestrel-post-1/copy`);
  await page.getByLabel('Which one').fill('no. 1');
  await page.getByRole('button', { name: 'Make the copy' }).click();
  await expect(page.getByText('There is a machine kestrel-post-1 already')).toBeVisible();
  await page.getByLabel('Which one').fill('no. 2');
  await page.getByRole('button', { name: 'Make the copy' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Kestrel Post, no. 2' })).toBeVisible();
  await expect(page.locator('#as-found')).toContainText('Nothing was found that differs');
  await page.goto(`${server.url}/machines/kestrel-post-2/versions`);
  await page.getByLabel('This machine with').selectOption({ label: 'Kestrel Post, no. 1' });
  await page.locator('form.compare').last().getByRole('button', { name: 'Compare' }).click();
  await expect(page.getByText('Nothing differs.')).toBeVisible();
  await page.getByRole('link', { name: 'All versions' }).click();
  await page.getByRole('link', { name: 'Compare with its board design' }).click();
  await expect(page.getByText(/\d+ of \d+ cells of the switch matrix have a switch/)).toBeVisible();
  await page.getByRole('link', { name: 'SB-2', exact: true }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Board design SB-2' })).toBeVisible();
  await expect(page.getByRole('link', { name: /Kestrel Post, no. 2/ })).toBeVisible();
  await page.context().close();
});

test('a reader sees maps and versions, and changes nothing', async ({ as, server }) => {
  const page = await as('priya');
  await page.goto(`${server.url}${regatta}?circuit=46`);
  await expect(page.locator('#ask .bignum')).toHaveText('46');
  await expect(page.getByRole('link', { name: 'It is otherwise here' })).toHaveCount(0);
  for (const path of ['/found', '/copy', '/versions/restore?version=1']) {
    await page.goto(`${server.url}${regatta}${path}`);
    await expect(page.getByRole('button', { name: /Keep|Make|Bring/ }), path).toHaveCount(0);
  }
  await page.goto(`${server.url}${regatta}/versions`);
  await expect(page.getByRole('heading', { level: 1, name: /Versions of Lantern Regatta/ })).toBeVisible();
  await expect(page.getByRole('link', { name: 'Bring back' })).toHaveCount(0);
});
