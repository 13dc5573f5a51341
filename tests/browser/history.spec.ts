/** A page's past: seen by all, named and brought back by those who write, without any script of the page being needed. */
import type { Page } from '@playwright/test';
import { clean } from './clean';
import { expect, openPage, saved, signIn, startWriting, test } from './fixtures';

const first = '# Spinner at the bench\n\nThe wire at seven is loose.\n\n- crimp row six\n- test it cold\n';
const second = '# Spinner at the bench\n\nThe wire at nine is loose.\n\n- crimp row six\n- test it warm\n\nIt was the plug after all.\n';

/** A page with two stretches of work: made by one member, who named it, and changed at once by another. */
async function twoStretches(ines: Page, tomas: Page, url: string): Promise<string> {
  const made = await ines.request.post(`${url}/api/pages`, { data: { markdown: first }, headers: { origin: url } });
  const { id } = (await made.json()) as { id: string };
  await ines.goto(`${url}/pages/${id}/history?at=1`);
  await ines.getByLabel('Name', { exact: true }).fill('As found');
  await ines.getByRole('button', { name: 'Give it the name' }).click();
  await expect(ines.getByRole('heading', { level: 1, name: 'As found' })).toBeVisible();
  const put = await tomas.request.put(`${url}/api/pages/${id}`, { data: { markdown: second }, headers: { origin: url } });
  expect(put.status()).toBe(200);
  return id;
}
const sheet = (page: Page) => page.locator('.history-sheet');

test('who changed what, and back again: nothing is rewritten', async ({ as, server }) => {
  const [ines, tomas] = await Promise.all([as('ines'), as('tomas')]);
  const id = await twoStretches(ines, tomas, server.url);
  await ines.goto(`${server.url}/pages/${id}`);
  await ines.getByRole('link', { name: 'History', exact: true }).click();
  const rows = ines.locator('.stretches > li');
  await expect(rows).toHaveCount(2);
  await expect(rows.first()).toContainText('Tomas');
  await expect(rows.first()).toContainText('+8 words, −2 words');
  await expect(rows.last()).toContainText('Ines');

  await rows.first().getByRole('link').click();
  await expect(sheet(ines).locator('ins')).toHaveText(['nine', 'warm', 'It was the plug after all.']);
  await expect(sheet(ines).locator('del')).toHaveText(['seven', 'cold']);
  await expect(ines.getByRole('link', { name: 'Bring this back' })).toHaveCount(0); // it is what stands there now

  await ines.getByRole('link', { name: 'Earlier', exact: true }).click();
  await expect(ines.getByRole('heading', { level: 1, name: 'As found' })).toBeVisible();
  await ines.getByLabel('Name', { exact: true }).fill('Before the plug');
  await ines.getByRole('button', { name: 'Rename' }).click();
  await expect(ines.getByRole('heading', { level: 1, name: 'Before the plug' })).toBeVisible();

  await ines.getByRole('link', { name: 'Bring this back' }).click();
  await expect(ines.getByText('This will change: +2 words, −8 words')).toBeVisible();
  await expect(sheet(ines).locator('ins').first()).toHaveText('seven');
  await ines.getByRole('button', { name: 'Bring it back' }).click();
  await expect(ines.getByRole('heading', { name: 'Brought back' })).toBeVisible();
  const now = async () => ((await (await ines.request.get(`${server.url}/api/pages/${id}`)).json()) as { markdown: string }).markdown;
  expect(await now()).toContain('The wire at seven is loose.');
  expect(await now()).not.toContain('It was the plug after all.');

  const { stretches } = (await (await ines.request.get(`${server.url}/api/pages/${id}/history`)).json()) as {
    stretches: { members: { name: string }[]; name: string | null; number: number }[];
  };
  expect(stretches.map((s) => s.members[0]?.name.split(' ')[0])).toEqual(['Ines', 'Tomas', 'Ines']);
  expect(stretches[0]?.name).toBe('Before the plug');
  expect(stretches[1]?.name).toMatch(/^Before going back on /);

  await ines.getByRole('link', { name: 'Take that back' }).click();
  await ines.getByRole('button', { name: 'Bring it back' }).click();
  await expect(ines.getByRole('heading', { name: 'Brought back' })).toBeVisible();
  expect(await now()).toContain('It was the plug after all.');
  await ines.goto(`${server.url}/pages/${id}/history`);
  await expect(rows).toHaveCount(4);
});

test('people who have the page open see it at once, and what they write meanwhile stays', async ({ as, server }) => {
  const [ines, tomas] = await Promise.all([as('ines'), as('tomas')]);
  const id = await twoStretches(ines, tomas, server.url);
  await openPage(tomas, server.url, 'Spinner at the bench');
  await tomas.goto(`${server.url}/pages/${id}`);
  await startWriting(tomas);
  const text = tomas.locator('.ProseMirror');
  await text.locator('h1').click();
  await tomas.keyboard.press('End');
  await tomas.keyboard.type(', seen twice');
  await saved(tomas);
  await ines.goto(`${server.url}/pages/${id}/history`);
  await ines.locator('.stretches > li').last().getByRole('link').click();
  await ines.getByRole('link', { name: 'Bring this back' }).click();
  await expect(ines.getByRole('button', { name: 'Bring it back' })).toBeVisible();
  await tomas.keyboard.type(' today'); // the caret stands in the heading, which is edited in place
  await ines.getByRole('button', { name: 'Bring it back' }).click();
  await expect(text).toContainText('The wire at seven is loose.');
  await expect(text).not.toContainText('It was the plug after all.');
  await tomas.keyboard.type('!');
  await expect(text.locator('h1')).toContainText('!');
  await saved(tomas);
});

test('works without scripts: the slider’s button, what it is compared with, a name', async ({ as, server, browser }) => {
  const [ines, tomas] = await Promise.all([as('ines'), as('tomas')]);
  const id = await twoStretches(ines, tomas, server.url);
  const context = await browser.newContext({ javaScriptEnabled: false });
  const page = await context.newPage();
  await signIn(page, server.url, 'wen');
  await page.goto(`${server.url}/pages/${id}/history?step=2`);
  await page.locator('#step').press('ArrowLeft');
  await page.getByLabel('Compared with').selectOption('now');
  await page.getByRole('button', { name: 'Show' }).click();
  await expect(page).toHaveURL(/step=1&against=now/);
  await expect(page.getByRole('heading', { name: /^What has changed since/ })).toBeVisible();
  await expect(sheet(page).locator('ins').first()).toHaveText('nine');
  await page.getByLabel('Name', { exact: true }).fill('x'.repeat(81));
  await page.getByRole('button', { name: 'Rename' }).click();
  await expect(page.getByText('Keep the name to 80 characters')).toBeVisible();
  await context.close();
});

test('a reader looks and changes nothing; what is not there is not there', async ({ as, server }) => {
  const [ines, tomas, priya] = await Promise.all([as('ines'), as('tomas'), as('priya')]);
  const id = await twoStretches(ines, tomas, server.url);
  await priya.goto(`${server.url}/pages/${id}/history?step=1`);
  await expect(sheet(priya)).toContainText('The wire at seven is loose.');
  await expect(priya.getByRole('link', { name: 'Bring this back' })).toHaveCount(0);
  await expect(priya.getByLabel('Name', { exact: true })).toHaveCount(0);
  const status = async (path: string) => (await priya.request.get(`${server.url}/pages/${id}/history${path}`)).status();
  expect(await status('/bring-back?at=1')).toBe(404);
  for (const wrong of ['?at=99999', '?at=x', '?step=9', '?step=0', '?at=1&against=99999']) expect(await status(wrong), wrong).toBe(404);
  const removed = await ines.request.delete(`${server.url}/api/pages/${id}`, { headers: { origin: server.url } });
  expect(removed.status()).toBe(200);
  expect(await status('')).toBe(404);
  expect((await priya.request.get(`${server.url}/api/pages/${id}/history`)).status()).toBe(404);
});

for (const [name, options] of [
  ['desktop', {}],
  ['phone', { phone: true, dark: true }],
] as const) {
  test(`axe finds nothing and nothing overflows, ${name}`, async ({ as, server }) => {
    const [page, tomas] = await Promise.all([as('ines', options), as('tomas')]);
    const id = await twoStretches(page, tomas, server.url);
    for (const path of ['', '?step=2', '?step=1', '/bring-back?at=1']) {
      await page.goto(`${server.url}/pages/${id}/history${path}`);
      await clean(page, path);
    }
  });
}
