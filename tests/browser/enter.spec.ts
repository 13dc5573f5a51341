/** A club enters a machine that nobody has seen: by paste, by keyboard, on a phone, two at once, without network. Keys and seconds are counted. */
import type { Page } from '@playwright/test';
import { matrixGrid, nameAt, sheet, switchList } from './entry-sheets';
import { expect, test } from './fixtures';

/** Counts every key, press and paste of a person, and the time. */
function counter(page: Page) {
  const began = Date.now();
  let keys = 0;
  let presses = 0;
  return {
    async press(key: string, times = 1) {
      for (let i = 0; i < times; i++) {
        keys += 1;
        await page.keyboard.press(key);
      }
    },
    async type(text: string) {
      keys += text.length;
      await page.keyboard.type(text);
    },
    /** Ctrl V is one keystroke. */
    async paste(text: string) {
      keys += 1;
      await pasteInto(page, text);
    },
    async click(target: ReturnType<Page['locator']>) {
      presses += 1;
      await target.click();
    },
    say: (what: string) => console.log(`${what}: ${keys} keystrokes, ${presses} presses, ${((Date.now() - began) / 1000).toFixed(1)} s`),
  };
}

async function begin(page: Page, url: string, name: string, unit: string) {
  await page.goto(`${url}/machines`);
  await page.getByRole('link', { name: 'New machine' }).click();
  await page.getByLabel('Name', { exact: true }).fill(name);
  await page.getByLabel('The club’s mark').fill(unit);
  await page.getByLabel('What it is').fill('solid-state pinball, two flippers');
  await page.getByLabel('Board design').selectOption('SB-2');
  await page.getByRole('button', { name: 'Go on to its circuits' }).click();
  await page.waitForURL(/\/machines\/[\w-]+\/enter$/);
  return ready(page);
}
/** The screen answers once its scripts are there. */
async function ready(page: Page) {
  await expect(page.getByRole('grid')).toBeVisible();
  await page.getByRole('gridcell').nth(1).click();
  await expect(page.locator('td.at')).toBeFocused();
  return new URL(page.url()).pathname.split('/')[2] ?? '';
}
const save = (page: Page) => page.getByRole('button', { name: 'Save', exact: true });
const sign = (page: Page) => page.locator('.enter-save .saved');
const cell = (page: Page, row: number, column: number) => page.locator(`td[data-row="${row}"][data-column="${column}"]`);

/** The counts on the tabs come beside the work and move them: a press that meets one on its way is made again. */
async function openTable(page: Page, name: RegExp) {
  const tab = page.getByRole('tab', { name });
  await expect(async () => {
    await tab.click();
    await expect(tab).toHaveAttribute('aria-selected', 'true', { timeout: 1000 });
  }).toPass();
}

async function pasteInto(page: Page, text: string) {
  await page.evaluate((t) => {
    const data = new DataTransfer();
    data.setData('text/plain', t);
    const at = document.activeElement;
    const taken = at?.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true })) === false;
    // The browser's own part of a paste: what nobody took goes into the field.
    if (!taken && at instanceof HTMLTextAreaElement) document.execCommand('insertText', false, t);
  }, text);
}
async function ask(page: Page, url: string, id: string, clue: string) {
  await page.goto(`${url}/machines/${id}?clue=${encodeURIComponent(clue)}#ask`);
  return page.locator('#ask');
}

test('64 switches by one paste, then asked', async ({ as, server }) => {
  test.setTimeout(240_000);
  const page = await as('wen');
  const id = await begin(page, server.url, 'Harbour Light', 'no. 1');
  const count = counter(page);
  const box = page.getByLabel(/A matrix, a switch list/);
  await count.click(box);
  await count.paste(sheet(matrixGrid()));
  await expect(page.getByText('the switch matrix, drawn as a grid').first()).toBeVisible();
  await expect(page.getByText(/It puts in 64 switches/)).toBeVisible();
  await count.click(page.getByRole('button', { name: 'Take it over' }));
  await expect(cell(page, 0, 1)).toHaveText(nameAt(1, 1));
  await expect(cell(page, 0, 2)).toContainText('violet/white'); // the wire of column 1 on SB-2 (content/designs/sb-2.json)
  await count.click(save(page));
  await expect(sign(page)).toContainText('Saved');
  count.say('64 switches by paste');

  // Asked by number, by wire: line switch-row.6 of SB-2 is grey/orange (content/designs/sb-2.json).
  await expect(await ask(page, server.url, id, 'sw 46')).toContainText(nameAt(4, 6));
  const byWire = await ask(page, server.url, id, 'grey/orange');
  await expect(byWire).toContainText('A3J4');
  for (const column of [1, 8]) await expect(byWire).toContainText(nameAt(column, 6));
  const { findings } = (await (await page.request.get(`${server.url}/api/machines/${id}/chart`)).json()) as {
    findings: { level: string }[];
  };
  expect(findings.filter((f) => f.level === 'error')).toEqual([]);
});

test('64 switches by keyboard alone, then asked', async ({ as, server }) => {
  test.setTimeout(180_000);
  const page = await as('tomas');
  const id = await begin(page, server.url, 'Salt Pan', 'no. 2');
  const count = counter(page);
  for (let column = 1; column <= 8; column++)
    for (let row = 1; row <= 8; row++) {
      await count.type(nameAt(column, row));
      await count.press('Enter');
    }
  // Every switch of the first column is an opto: written once, filled down.
  await count.press('Control+Home');
  await count.press('ArrowRight', 4);
  await count.type('opto');
  await count.press('Enter');
  await count.press('ArrowUp');
  for (let i = 0; i < 7; i++) await count.press('Shift+ArrowDown');
  await count.press('Control+d');
  await expect(cell(page, 7, 4)).toHaveText('opto');
  await expect(cell(page, 8, 4)).toHaveText('');
  await count.press('Control+z');
  await expect(cell(page, 7, 4)).toHaveText('');
  await count.press('Control+Shift+Z');
  await expect(cell(page, 7, 4)).toHaveText('opto');
  await count.press('Control+s');
  await expect(sign(page)).toContainText('Saved');
  count.say('64 switches by keyboard');
  await expect(await ask(page, server.url, id, 'sw 77')).toContainText(nameAt(7, 7));
  await expect(await ask(page, server.url, id, 'grey-orange')).toContainText(nameAt(2, 6));
});

test('a board design by keyboard and paste, then a machine on it', async ({ as, server }) => {
  test.setTimeout(240_000);
  const page = await as('tomas');
  await page.goto(`${server.url}/machines`);
  await page.getByRole('link', { name: 'New board design' }).click();
  // What was typed comes back with what to mend.
  await page.getByLabel('Mark').fill('no good!');
  await page.getByLabel('What it is').fill('Four lines each way');
  await page.getByRole('button', { name: 'Go on' }).click();
  await expect(page.getByText('Use letters, digits and hyphens')).toBeVisible();
  await expect(page.getByLabel('What it is')).toHaveValue('Four lines each way');
  await page.getByLabel('Mark').fill('kb-4');
  for (const name of ['Switch columns', 'Switch rows']) await page.getByLabel(name).fill('2');
  for (const name of ['Direct switch inputs', 'Lamp columns', 'Lamp rows', 'Driven loads']) await page.getByLabel(name).fill('0');
  await page.getByRole('button', { name: 'Go on' }).click();
  await page.waitForURL(/\/designs\/KB-4\/enter/);
  await ready(page);
  await cell(page, 0, 1).click();
  await pasteInto(page, 'violet/white\t24\nvi-og\t24\ngrey/blue\t24\n8-2\t24\n');
  await expect(cell(page, 3, 1)).toHaveText('8-2');
  await openTable(page, /Headers/);
  await cell(page, 0, 0).click();
  for (const text of ['A3J1', 'Switches', '5', '2.54', '3', 'tin', 'crimp']) {
    await page.keyboard.type(text);
    await page.keyboard.press('Tab');
  }
  await openTable(page, /Pins/);
  await cell(page, 0, 2).click();
  // Position 3 is the key and has no row.
  for (const text of ['violet/white', 'switch-column.2', 'grey/blue', 'gy-rd']) {
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
  }
  await page.keyboard.press('Control+s');
  await expect(sign(page)).toContainText(/^Saved/);
  const answer = (await (await page.request.get(`${server.url}/api/designs/KB-4`)).json()) as {
    design: { nets: { id: string; colour: string }[]; headers: { pins: unknown[] }[] };
  };
  // 8-2 is grey with a red stripe (digits of IEC 60062).
  expect(answer.design.nets.map((net) => net.colour)).toEqual(['violet/white', 'violet/orange', 'grey/blue', 'grey/red']);
  expect(answer.design.headers[0]?.pins).toEqual([
    { position: 1, net: 'switch-column.1' },
    { position: 2, net: 'switch-column.2' },
    { position: 4, net: 'switch-row.1' },
    { position: 5, net: 'switch-row.2' },
  ]);
  await page.getByRole('link', { name: 'New machine on it' }).click();
  await expect(page.getByLabel('Board design')).toHaveValue('KB-4');
  await page.getByLabel('Name', { exact: true }).fill('Small Fry');
  await page.getByRole('button', { name: 'Go on to its circuits' }).click();
  await page.waitForURL(/\/machines\/small-fry\/enter$/);
  await expect(cell(page, 3, 3)).toContainText('grey/red');
  const file = page.waitForEvent('download');
  await page.getByText('Take it away as files').click();
  await page.getByRole('link', { name: 'lines.csv' }).click();
  expect((await file).suggestedFilename()).toBe('small-fry-lines.csv');
});

test('a list with a column that nobody knows: only that is asked, and nothing is lost', async ({ as, server }) => {
  test.setTimeout(240_000);
  const page = await as('wen');
  await begin(page, server.url, 'Sluice Gate', 'no. 5');
  const list = switchList()
    .slice(0, 9)
    .map((row, i) => (i === 3 ? ['99', ...row.slice(1, 2), '', '', '', '', ...row.slice(6)] : row));
  await page.getByLabel(/A matrix, a switch list/).fill(sheet(list));
  await expect(page.getByText('a list of switches').first()).toBeVisible();
  await expect(page.getByRole('combobox', { name: 'Column 2 is' })).toHaveValue('name');
  await expect(page.getByRole('heading', { name: 'Not understood' })).toBeVisible();
  await page.getByRole('button', { name: 'Take it over' }).click();
  await expect(page.getByText(/Taken over: 7 switches/)).toBeVisible();
  await expect(page.locator('.taken')).toContainText('99');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(cell(page, 0, 1)).toHaveText('');
  await expect(sign(page)).toContainText('Nothing to save');
  await page.getByRole('button', { name: 'Bring the text back' }).click();
  await expect(page.getByLabel(/A matrix, a switch list/)).toHaveValue(/Switch name/);
});

test('a cell that cannot be read says its mend, survives a reload, and does not hold up saving', async ({ as, server }) => {
  test.setTimeout(240_000);
  const page = await as('wen');
  const id = await begin(page, server.url, 'Ebb Tide', 'no. 7');
  await page.keyboard.type('Gull lane');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Tab');
  await page.keyboard.type('perhaps');
  await page.keyboard.press('Enter');
  await page.keyboard.press('ArrowUp');
  await expect(cell(page, 0, 1)).toHaveText('Gull lane');
  const wrong = cell(page, 0, 5);
  await expect(wrong).toHaveAttribute('aria-invalid', 'true');
  await wrong.click();
  await expect(page.locator('.cell-said')).toContainText('Write open, closed.');
  await save(page).click();
  await expect(sign(page)).toContainText('but for 1 cell');
  await page.reload();
  await ready(page);
  await expect(cell(page, 0, 5)).toHaveText('perhaps');
  // The list of findings leads to the cell.
  await cell(page, 20, 1).click();
  await page.getByRole('button', { name: /“perhaps” is none of the words/ }).click();
  await expect(cell(page, 0, 5)).toBeFocused();
  await page.keyboard.type('nc');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Control+s');
  await expect(sign(page)).toContainText(/^Saved/);
  const { machine } = (await (await page.request.get(`${server.url}/api/machines/${id}/chart`)).json()) as {
    machine: { switches: unknown[] };
  };
  expect(machine.switches).toMatchObject([{ name: 'Gull lane', normally: 'closed' }]);
});

test('before saving it says which pages would mean something else', async ({ as, server }) => {
  const page = await as('wen');
  await page.goto(`${server.url}/machines/lantern-regatta-3/enter`);
  await ready(page);
  await cell(page, 0, 1).click();
  for (let down = 0; down < 29; down++) await page.keyboard.press('ArrowDown');
  await expect(cell(page, 29, 0)).toHaveText('46');
  const before = await cell(page, 29, 1).textContent();
  await page.keyboard.type('Heron gate');
  await page.keyboard.press('Enter');
  const touched = page.locator('.pages-touched');
  await touched.getByText(/^Saving changes what \d+ pages? says?$/).click();
  await expect(touched.getByRole('link').first()).toHaveAttribute('href', /^\/pages\/\w+$/);
  // Undone, nothing would change; and nothing was saved.
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(cell(page, 29, 1)).toHaveText(before ?? '');
  await expect(touched).toHaveCount(0);
});

test('two people at once lose nothing; the same cell is asked about', async ({ as, server }) => {
  test.setTimeout(240_000);
  const wen = await as('wen');
  const id = await begin(wen, server.url, 'Twin Buoys', 'no. 4');
  const tomas = await as('tomas');
  await tomas.goto(`${server.url}/machines/${id}/enter`);
  await ready(tomas);
  const put = async (page: Page, row: number, text: string) => {
    await cell(page, row, 1).click();
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
    await page.keyboard.press('Control+s');
  };
  await put(wen, 0, 'Gull lane');
  await expect(sign(wen)).toContainText(/^Saved/);
  await put(tomas, 1, 'Tern gate');
  await expect(sign(tomas)).toContainText(/^Saved/);
  await expect(cell(tomas, 0, 1)).toHaveText('Gull lane'); // Wen's came in
  await expect(cell(tomas, 1, 1)).toHaveText('Tern gate');
  await put(wen, 1, 'Crab gate');
  const both = wen.getByRole('alert', { name: 'Changed by two people' });
  await expect(both).toContainText('“Crab gate”');
  await expect(both).toContainText('“Tern gate”');
  await both.getByRole('radio', { name: /Theirs/ }).check();
  await both.getByRole('button', { name: 'Join them so' }).click();
  await expect(cell(wen, 1, 1)).toHaveText('Tern gate');
  await save(wen).click();
  await expect(sign(wen)).toContainText(/^Saved/);
  const { machine } = (await (await wen.request.get(`${server.url}/api/machines/${id}/chart`)).json()) as {
    machine: { switches: { name: string }[] };
  };
  expect(machine.switches.map((s) => s.name)).toEqual(['Gull lane', 'Tern gate']);
});

test('without network it is kept, and sent when the network is back', async ({ as, server }) => {
  test.setTimeout(240_000);
  const page = await as('wen');
  const id = await begin(page, server.url, 'Dark Lantern', 'no. 6');
  await page.context().setOffline(true);
  await page.keyboard.type('Gull lane');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Control+s');
  await expect(sign(page)).toContainText('No network');
  await page.context().setOffline(false);
  await expect(sign(page)).toContainText(/^Saved/);
  const { machine } = (await (await page.request.get(`${server.url}/api/machines/${id}/chart`)).json()) as {
    machine: { switches: unknown[] };
  };
  expect(machine.switches).toHaveLength(1);
});

test('on a phone: a tap chooses, the second writes; the grid scrolls in its box only', async ({ as, server }) => {
  test.setTimeout(240_000);
  const page = await as('wen', { phone: true });
  await page.goto(`${server.url}/machines/tin-orchard/enter`);
  await expect(page.getByRole('grid')).toBeVisible();
  const name = cell(page, 2, 1);
  await name.tap();
  await expect(name).toHaveClass(/\bat\b/);
  await name.tap();
  const input = page.locator('.cell-input');
  await expect(input).toBeFocused();
  await input.fill('Pear lane');
  await page.keyboard.press('Enter');
  await expect(name).toHaveText('Pear lane');
  await page.getByRole('button', { name: 'Undo' }).tap();
  await expect(name).not.toHaveText('Pear lane');
  const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  expect(over).toBeLessThanOrEqual(0);
  for (const button of await page.locator('.enter button:visible').all())
    expect((await button.boundingBox())?.height ?? 44).toBeGreaterThanOrEqual(44);
});

/** Files let go over an element, as a file manager does it. */
async function dropOn(page: Page, selector: string, file: { name: string; type: string; text: string }) {
  await page.locator(selector).evaluate((target, { name, type, text }) => {
    const data = new DataTransfer();
    data.items.add(new File([text], name, { type }));
    const send = (kind: string) => target.dispatchEvent(new DragEvent(kind, { dataTransfer: data, bubbles: true, cancelable: true }));
    for (const kind of ['dragenter', 'dragover', 'drop'])
      if (send(kind) && kind !== 'dragenter') throw new Error(`nobody took the ${kind}`);
  }, file);
}

test('on a tablet: saving and the names stay in sight wherever one is in the grid; a finding says which row', async ({ as, server }) => {
  test.setTimeout(240_000);
  const page = await as('wen');
  await page.setViewportSize({ width: 820, height: 1180 });
  await begin(page, server.url, 'Spring Tide', 'no. 9');
  await page.keyboard.type('Gull lane');
  await page.keyboard.press('Enter');
  await cell(page, 0, 1).click();
  for (let column = 1; column < 7; column++) await page.keyboard.press('ArrowRight');
  await expect(cell(page, 0, 7)).toBeFocused();
  const [name, device] = [await cell(page, 0, 1).boundingBox(), await cell(page, 0, 7).boundingBox()];
  if (!name || !device) throw new Error('not drawn');
  expect(name.x).toBeGreaterThanOrEqual(0);
  expect(device.x).toBeGreaterThanOrEqual(name.x + name.width - 1);
  await cell(page, 0, 4).click();
  await page.keyboard.type('wobbly');
  await page.keyboard.press('Enter');
  await page.locator('#check').scrollIntoViewIfNeeded();
  await expect(page.locator('#check')).toContainText('Switches, 11');
  const trial = { trial: true, timeout: 5000 }; // refused while something covers it
  await save(page).click(trial);
});

test('a machine on a board design without lines says where to begin', async ({ as, server }) => {
  const page = await as('tomas');
  await page.goto(`${server.url}/designs/new`);
  await page.getByLabel('Mark').fill('kb-0');
  await page.getByLabel('What it is').fill('Nothing yet');
  await page.getByRole('button', { name: 'Go on' }).click();
  await page.waitForURL(/\/designs\/KB-0\/enter/);
  await page.getByRole('link', { name: 'New machine on it' }).click();
  await page.getByLabel('Name', { exact: true }).fill('Bare Board');
  await page.getByRole('button', { name: 'Go on to its circuits' }).click();
  await page.waitForURL(/\/machines\/bare-board\/enter$/);
  await page.getByRole('link', { name: 'Enter its lines first' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Board design KB-0' })).toBeVisible();
  await page.goto(`${server.url}/designs/KB-0`);
  await expect(page.locator('#lines')).toContainText('No line is entered yet.');
  await page.getByRole('link', { name: 'Enter lines and headers' }).click();
  await page.waitForURL(/\/designs\/KB-0\/enter/);
  await page.goto(`${server.url}/machines/bare-board`);
  await expect(page.locator('#pages')).toContainText('None yet.');
  await expect(page.getByRole('heading', { name: 'Beside the matrix' })).toHaveCount(0);
});

test('files are dropped on the screen, or chosen by keyboard: one table, and a whole chart', async ({ as, server }) => {
  test.setTimeout(240_000);
  const page = await as('wen');
  const kept = `${server.url}/machines/lantern-regatta-3/export`;
  const [csv, json] = await Promise.all(
    ['switches.csv', 'chart.json'].map(async (name) => (await page.request.get(`${kept}/${name}`)).text()),
  );
  await begin(page, server.url, 'Drop Zone', 'no. 5');
  const name = cell(page, 0, 1);
  const before = await name.textContent();

  await dropOn(page, '.paste', { name: 'switches.csv', type: 'text/csv', text: csv ?? '' });
  await expect(page.locator('.paste')).not.toHaveClass(/\bover\b/);
  await expect(page.getByText('a list of switches').first()).toBeVisible();
  await page.getByRole('button', { name: 'Take it over' }).click();
  await expect(page.locator('.taken')).toContainText('Taken over');
  await expect(name).not.toHaveText(before ?? '');
  const first = await name.textContent();
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(name).toHaveText(before ?? '');

  await dropOn(page, '.paste', { name: 'chart.json', type: 'application/json', text: json ?? '' });
  await expect(page.getByText('Taken over: the machine of the file. Undo takes it back.')).toBeVisible();
  await expect(name).toHaveText(first ?? '');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect(name).toHaveText(before ?? '');

  for (const [file, text, said] of [
    ['switches.csv', csv, 'a list of switches'],
    ['chart.json', json, 'Taken over: the machine of the file. Undo takes it back.'],
    ['chart.json', '{"format": "something"', 'no JSON'],
  ] as const) {
    const choose = page.getByLabel('Choose a file');
    await choose.focus();
    await expect(choose).toBeFocused();
    const chooser = page.waitForEvent('filechooser');
    await choose.press('Enter');
    await (await chooser).setFiles({ name: file, mimeType: 'text/plain', buffer: Buffer.from(text ?? '') });
    if (said !== 'no JSON') await expect(page.getByText(said).first()).toBeVisible();
    else await expect(page.locator('.paste .problems')).not.toContainText('Taken over');
  }
  await expect(name).toHaveText(first ?? '');
});

test('a block goes out and in as tab-separated text; Escape, then Tab leaves the grid', async ({ as, server }) => {
  test.setTimeout(240_000);
  const page = await as('wen');
  await begin(page, server.url, 'Copy Cat', 'no. 8');
  await cell(page, 0, 4).click();
  await pasteInto(page, 'leaf\topen\r\nreed\tclosed\r\n');
  await expect(cell(page, 1, 4)).toHaveText('reed');
  await expect(cell(page, 1, 5)).toHaveText('closed');
  const copied = await page.evaluate(() => {
    const data = new DataTransfer();
    document.activeElement?.dispatchEvent(new ClipboardEvent('copy', { clipboardData: data, bubbles: true, cancelable: true }));
    return data.getData('text/plain');
  });
  expect(copied).toBe('leaf\topen\nreed\tclosed');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Tab');
  await expect(page.locator('.keys-help summary')).toBeFocused();
});

test('10,000 rows are pasted without holding up typing', async ({ as, server }) => {
  test.setTimeout(180_000);
  const page = await as('wen');
  await begin(page, server.url, 'Long List', 'no. 9');
  const rows = [
    ['Header', 'Position', 'Line', 'Goes to'],
    ...Array.from({ length: 10_000 }, (_, i) => ['A3J4', String((i % 9) + 1), `switch-row.${(i % 8) + 1}`, '']),
  ];
  const text = sheet(rows);
  const gaps = page.evaluate(
    () =>
      new Promise<{ longest: number; tasks: number[] }>((resolve) => {
        let last = performance.now();
        let longest = 0;
        const tasks: number[] = [];
        new PerformanceObserver((list) => tasks.push(...list.getEntries().map((e) => Math.round(e.duration)))).observe({
          entryTypes: ['longtask'],
        });
        const tick = () => {
          const now = performance.now();
          longest = Math.max(longest, now - last);
          last = now;
          if (document.querySelector('.understood')) resolve({ longest, tasks });
          else setTimeout(tick);
        };
        tick();
      }),
  );
  await page.getByLabel(/A matrix, a switch list/).focus();
  await pasteInto(page, text);
  const { longest, tasks } = await gaps;
  console.log(`10,000 rows understood: longest pause ${longest.toFixed(0)} ms, long tasks ${tasks.join(', ') || 'none'}`);
  await expect(page.getByText('a list of connector pins').first()).toBeVisible();
  await expect(page.locator('.paste-table')).toContainText('A3J4');
});
