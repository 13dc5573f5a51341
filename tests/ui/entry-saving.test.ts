/** Saving and joining: what two people entered, what could not be read, what is kept on the device. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { emptyMachine } from '@/lib/core/chart/entry';
import { merge } from '@/lib/core/chart/merge';
import { boardDesign, type Machine } from '@/lib/core/chart/schema';
import { dropDraft, readDraft, writeDraft } from '@/lib/ui/entry/draft';
import { type Act, gridReducer, newGrid } from '@/lib/ui/entry/grid';
import { readSheet } from '@/lib/ui/entry/read-sheet';
import { carried, rebased, settledConflicts, sheetOfCharts } from '@/lib/ui/entry/rebase';
import { type Kept, save } from '@/lib/ui/entry/saving';
import type { Sheet } from '@/lib/ui/entry/types';

const sb2 = boardDesign.parse(JSON.parse(readFileSync(new URL('../../content/designs/sb-2.json', import.meta.url), 'utf8')));
const empty = emptyMachine(sb2, { id: 'x', name: 'X' });
const kept: Kept = { machine: empty, design: sb2, versions: { machine: 1, design: 1 } };
const written = (sheet: Sheet, ...cells: [row: number, column: number, text: string][]): Sheet =>
  cells.reduce(
    (grid, [row, column, text]) =>
      (
        [
          { do: 'goto', at: { row, column } },
          { do: 'type', text },
          { do: 'commit', and: 'stay' },
        ] as Act[]
      ).reduce(gridReducer, grid),
    newGrid(sheet, 'switches'),
  ).sheet;
const charts = (sheet: Sheet) => {
  const { machine, design } = readSheet(sheet);
  return { machine, design };
};
const names = (machine: Machine | null | undefined) => machine?.switches.map((s) => `${s.column}${s.row} ${s.name}`);

describe('joining', () => {
  const start = sheetOfCharts(kept);
  test('what others saved comes in beside what is not saved', () => {
    const mine = written(start, [0, 1, 'Gull lane']);
    const theirs = charts(written(start, [9, 1, 'Tern gate']));
    const joined = rebased(mine, kept, theirs);
    expect(joined.ok && names(readSheet(joined.sheet).machine)).toEqual(['11 Gull lane', '22 Tern gate']);
    expect(joined.ok && joined.taken.map((c) => c.label)).toContain('Switch at column 2, row 2');
  });
  test('cells that cannot be read yet are carried over', () => {
    const mine = written(start, [0, 1, 'Gull lane'], [0, 5, 'perhaps'], [64, 1, 'No place']);
    const joined = rebased(mine, kept, charts(written(start, [9, 1, 'Tern gate'])));
    const cells = joined.ok ? joined.sheet.tables.switches!.map((r) => r.cells) : [];
    expect(cells[0]?.slice(0, 6)).toEqual(['', 'Gull lane', '1', '1', 'leaf', 'perhaps']);
    expect(cells.filter((c) => c[1] === 'No place')).toHaveLength(1);
  });
  test('carrying over twice puts nothing in twice', () => {
    const mine = written(start, [64, 1, 'No place']);
    const once = carried(mine, readSheet(mine).problems, sheetOfCharts(charts(mine)));
    const twice = carried(once, readSheet(once).problems, sheetOfCharts(charts(once)));
    expect(twice.tables.switches!.filter((r) => r.cells[1] === 'No place')).toHaveLength(1);
  });
  test('of a cell that both changed, the one that is chosen holds, and all else of both', () => {
    const base = readSheet(written(start, [0, 1, 'Gull'])).machine as Machine;
    const on = sheetOfCharts({ machine: base, design: sb2 });
    const mine = readSheet(written(on, [0, 1, 'Gull lane'], [1, 1, 'Mine'])).machine as Machine;
    const theirs = readSheet(written(on, [0, 1, 'Gull gate'], [2, 1, 'Theirs'])).machine as Machine;
    const joined = merge(base, mine, theirs);
    const conflicts = joined.ok ? [] : joined.conflicts;
    expect(conflicts).toHaveLength(1);
    expect(names(settledConflicts(base, mine, theirs, conflicts, ['mine']))?.sort()).toEqual(['11 Gull lane', '12 Mine', '13 Theirs']);
    expect(names(settledConflicts(base, mine, theirs, conflicts, ['theirs']))?.sort()).toEqual(['11 Gull gate', '12 Mine', '13 Theirs']);
  });
  test('a row that they took out and I changed comes back only when mine is chosen', () => {
    const base = readSheet(written(start, [0, 1, 'Gull'])).machine as Machine;
    const mine = readSheet(written(sheetOfCharts({ machine: base, design: sb2 }), [0, 1, 'Gull lane'])).machine as Machine;
    const joined = merge(base, mine, empty);
    const conflicts = joined.ok ? [] : joined.conflicts;
    expect(names(settledConflicts(base, mine, empty, conflicts, ['mine']))).toEqual(['11 Gull lane']);
    expect(names(settledConflicts(base, mine, empty, conflicts, ['theirs']))).toEqual([]);
  });
});

describe('saving', () => {
  const mine = charts(written(sheetOfCharts(kept), [0, 1, 'Gull lane']));
  const server = (answers: Record<string, () => Response | Promise<Response>>) => {
    const asked: { address: string; body: unknown }[] = [];
    const fetch = (async (address: string, init?: RequestInit) => {
      const key = `${init?.method ?? 'GET'} ${address}`;
      asked.push({ address: key, body: init?.body ? JSON.parse(String(init.body)) : null });
      return (answers[key] ?? (() => new Response(null, { status: 404 })))();
    }) as typeof globalThis.fetch;
    return { fetch, asked };
  };
  const good = (version: number, merged: string[] = []) =>
    Response.json({ version, merged: merged.map((label) => ({ label })), pages: 2, findings: [] });

  test('only what changed is sent, with the version that it was made from', async () => {
    const { fetch, asked } = server({ 'PUT /api/machines/x/chart': () => good(2) });
    const result = await save(mine, kept, fetch);
    expect(asked.map((a) => a.address)).toEqual(['PUT /api/machines/x/chart']);
    expect(asked[0]?.body).toMatchObject({ version: 1, machine: { switches: [{ name: 'Gull lane' }] } });
    expect(result).toMatchObject({ ok: true, pages: 2, merged: [], kept: { versions: { machine: 2, design: 1 } } });
    const again = await save(mine, result.kept, fetch);
    expect(again.ok && asked).toHaveLength(1);
  });
  test('a changed board design goes first; when the machine then fails, the design is not sent twice', async () => {
    const design = { ...sb2, name: 'Other name' };
    let up = false;
    const { fetch, asked } = server({
      'PUT /api/designs/SB-2': () => good(5),
      'PUT /api/machines/x/chart': () => {
        if (!up) throw new TypeError('no network');
        return good(2);
      },
    });
    const first = await save({ ...mine, design }, kept, fetch);
    expect(first).toMatchObject({ ok: false, why: 'offline', kept: { versions: { machine: 1, design: 5 } } });
    up = true;
    expect(await save({ ...mine, design }, first.kept, fetch)).toMatchObject({ ok: true, kept: { versions: { machine: 2, design: 5 } } });
    expect(asked.filter((a) => a.address.includes('designs'))).toHaveLength(1);
  });
  test('what others had saved is read again', async () => {
    const theirs = charts(written(sheetOfCharts({ machine: mine.machine, design: sb2 }), [9, 1, 'Tern gate'])).machine;
    const { fetch } = server({
      'PUT /api/machines/x/chart': () => good(3, ['Switch at column 2, row 2']),
      'GET /api/machines/x/chart': () => Response.json({ machine: theirs, version: 3 }),
    });
    const result = await save(mine, kept, fetch);
    expect(result).toMatchObject({ ok: true, merged: ['Switch at column 2, row 2'] });
    expect(names(result.kept.machine)).toEqual(['11 Gull lane', '22 Tern gate']);
  });
  test('a conflict comes back cell by cell', async () => {
    const theirs = charts(written(sheetOfCharts(kept), [0, 1, 'Crab gate'])).machine;
    const { fetch } = server({
      'PUT /api/machines/x/chart': () =>
        Response.json({ title: 'x', detail: 'y', errors: [{ field: 'f', message: 'both', mend: 'm' }] }, { status: 409 }),
      'GET /api/machines/x/chart': () => Response.json({ machine: theirs, version: 2 }),
    });
    const result = await save(mine, kept, fetch);
    expect(result).toMatchObject({
      ok: false,
      why: 'conflict',
      doc: 'machine',
      version: 2,
      conflicts: [{ mine: 'Gull lane', theirs: 'Crab gate' }],
    });
  });
  test('no network, a proxy without its server, a refusal', async () => {
    const offline = server({ 'PUT /api/machines/x/chart': () => Promise.reject(new TypeError('no network')) });
    expect(await save(mine, kept, offline.fetch)).toMatchObject({ ok: false, why: 'offline' });
    const proxy = server({ 'PUT /api/machines/x/chart': () => new Response('<html>', { status: 503 }) });
    expect(await save(mine, kept, proxy.fetch)).toMatchObject({ ok: false, why: 'offline' });
    const refused = server({ 'PUT /api/machines/x/chart': () => Response.json({ detail: 'Keep the body small.' }, { status: 413 }) });
    expect(await save(mine, kept, refused.fetch)).toMatchObject({ ok: false, why: 'refused', message: 'Keep the body small.' });
  });
});

test('a draft comes back as it was; one of another shape, or none, is nothing', () => {
  const store = new Map<string, string>();
  const storage = {
    getItem: (k: string) => store.get(k) ?? null,
    setItem: (k: string, v: string) => void store.set(k, v),
    removeItem: (k: string) => void store.delete(k),
  };
  const sheet = written(sheetOfCharts(kept), [0, 1, 'Gull lane'], [0, 5, 'perhaps']);
  expect(writeDraft(storage, 'k', sheet, kept, 0)).toBe(true);
  expect(readSheet(readDraft(storage, 'k')!.sheet)).toEqual(readSheet(sheet));
  store.set('k', '{"form":0}');
  expect(readDraft(storage, 'k')).toBeNull();
  store.set('k', 'not json');
  expect(readDraft(storage, 'k')).toBeNull();
  dropDraft(storage, 'k');
  expect(store.size).toBe(0);
  const full = {
    ...storage,
    setItem: () => {
      throw new DOMException('full', 'QuotaExceededError');
    },
  };
  expect(writeDraft(full, 'k', sheet, kept, 0)).toBe(false);
});
