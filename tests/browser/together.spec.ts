/** Two members on one page: what both do survives, and nobody loses their place. */
import { expect, openPage, saved, startWriting, test } from './fixtures';

const story = 'Spinner misses counts when warm';

test('two people type at once and see the same page', async ({ as, server }) => {
  const [ines, tomas] = await Promise.all([as('ines'), as('tomas')]);
  await Promise.all([openPage(ines, server.url, 'Bench rules'), openPage(tomas, server.url, 'Bench rules')]);
  await Promise.all([startWriting(ines), startWriting(tomas)]);
  const [left, right] = [ines.locator('.ProseMirror'), tomas.locator('.ProseMirror')];
  await left.locator('p').first().click();
  await ines.keyboard.press('End');
  await right.locator('p').last().click();
  await tomas.keyboard.press('End');
  await Promise.all([
    ines.keyboard.type(' INESINESINESINESINES', { delay: 12 }),
    tomas.keyboard.type(' tomastomastomastomas', { delay: 12 }),
  ]);
  for (const sheet of [left, right]) {
    await expect(sheet).toContainText('INESINESINESINESINES');
    await expect(sheet).toContainText('tomastomastomastomas');
  }
  const text = (sheet: typeof left) =>
    sheet.evaluate((element) => {
      const copy = element.cloneNode(true) as Element;
      for (const caret of copy.querySelectorAll('.caret')) caret.remove();
      return [...copy.querySelectorAll('p, h1, h2, h3, li')].map((block) => block.textContent).join('\n');
    });
  await expect.poll(async () => (await text(left)) === (await text(right))).toBe(true);
  await expect(ines.locator('.caret i')).toHaveText('TR');
  await Promise.all([saved(ines), saved(tomas)]);
});

test('two people tick the same plan at once and both ticks stay', async ({ as, server }) => {
  const [ines, tomas] = await Promise.all([as('ines'), as('tomas')]);
  await Promise.all([openPage(ines, server.url, story), openPage(tomas, server.url, story)]);
  await Promise.all([startWriting(ines), startWriting(tomas)]);
  const tick = (page: typeof ines, position: number) => page.getByRole('checkbox', { name: `Position ${position} seated` });
  await expect(tick(ines, 10)).not.toBeChecked();
  await expect(tick(ines, 11)).not.toBeChecked();
  await Promise.all([tick(ines, 10).click(), tick(tomas, 11).click()]);
  for (const page of [ines, tomas]) {
    await expect(tick(page, 10)).toBeChecked();
    await expect(tick(page, 11)).toBeChecked();
  }
  await Promise.all([saved(ines), saved(tomas)]);
});

test('a caret stays where it was put while the other one types', async ({ as, server }) => {
  const [ines, wen] = await Promise.all([as('ines'), as('wen')]);
  const lines = ['first', 'second', 'third', 'fourth'].map((n) => `The ${n} paragraph, long enough to click into the middle of it.`);
  const made = await ines.request.post(`${server.url}/api/pages`, {
    data: { markdown: `# Carets\n\n${lines.join('\n\n')}` },
    headers: { origin: server.url },
  });
  const { id } = (await made.json()) as { id: string };
  for (const page of [ines, wen]) {
    await page.goto(`${server.url}/pages/${id}/write`);
    await expect(page.locator('.ProseMirror')).toContainText('The fourth paragraph');
  }
  const paragraphs = ines.locator('.ProseMirror > p');
  await wen.locator('.ProseMirror > p').first().click();
  await wen.keyboard.press('End');
  let typing = true;
  const typist = (async () => {
    while (typing) await wen.keyboard.type('x', { delay: 5 });
  })();
  const wrong: string[] = [];
  const expected = lines.map(() => 0);
  for (let round = 0; round < 25; round += 1) {
    const target = 1 + (round % (lines.length - 1));
    await paragraphs.nth(target).click({ position: { x: 40, y: 8 } });
    await ines.keyboard.type('0');
    expected[target] = (expected[target] ?? 0) + 1;
    const landed = await paragraphs.evaluateAll((all) => all.map((p) => (p.textContent ?? '').split('0').length - 1));
    if (landed.join() !== expected.join()) wrong.push(`round ${round}, paragraph ${target}: ${landed.join()} for ${expected.join()}`);
  }
  typing = false;
  await typist;
  expect(wrong).toEqual([]);
});
