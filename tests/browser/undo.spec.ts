/** Undo covers text and widgets alike, wherever the focus is. */
import { expect, test } from './fixtures';

test('a widget taken out, a choice made in one, and typing are undone and done again', async ({ as, server }) => {
  const page = await as('wen');
  const made = await page.request.post(`${server.url}/api/pages`, {
    data: { markdown: '# Undo\n\nText.\n\n```widget fix-record fr1\n```\n', machine: 'tin-orchard' },
    headers: { origin: server.url },
  });
  const { id } = (await made.json()) as { id: string };
  await page.goto(`${server.url}/pages/${id}/write`);
  const widgets = page.locator('.ProseMirror .widget-host');
  await expect(widgets).toHaveCount(1);
  await page.getByRole('button', { name: 'Take this out' }).click();
  await expect(widgets).toHaveCount(0);
  await page.keyboard.press('Control+z');
  await expect(widgets).toHaveCount(1);

  const mended = page.getByRole('radio', { name: 'Mended', exact: true });
  await mended.check();
  await page.keyboard.press('Control+z');
  await expect(mended).not.toBeChecked();
  await page.keyboard.press('Control+y');
  await expect(mended).toBeChecked();

  await page.locator('.ProseMirror > p').first().click();
  await page.keyboard.type(' see https://club.example/x now');
  await expect(page.locator('.ProseMirror a[href="https://club.example/x"]')).toHaveText('https://club.example/x');
});
