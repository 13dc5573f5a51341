import { sql } from 'drizzle-orm';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Live } from '@/lib/live/server';
import { contentOf, writeContent } from '@/lib/notebook/content';
import { plainText } from '@/lib/notebook/prose';
import { progressOf, recomputeLater } from '@/lib/search/dependents';
import { indexNow } from '@/lib/search/indexer';
import { previewDesign, previewMachine } from '@/lib/search/preview';
import { readQuery } from '@/lib/search/read-query';
import { circuitPages, marksOfPages, recentPages } from '@/lib/search/recent';
import { clueAnswers, searchFixes, seenBefore } from '@/lib/search/search';
import { getDesign, getMachine, putMachine } from '@/lib/store/machines';
import { removePage } from '@/lib/store/pages';
import { forgetSearch, listSavedSearches, saveSearch } from '@/lib/store/saved-searches';
import { type TestDatabase, testDatabase } from '../store/cluster';
import { contentFrom, machineOf, openHouse, pageNames, pageText, seedClub } from './club';

let db: TestDatabase;
let house: Live;
beforeAll(async () => {
  db = await testDatabase();
  house = openHouse(db.database);
  await seedClub();
}, 60_000);
afterAll(async () => {
  await house?.close();
  await db?.close();
});

const pages = async (query: string) => (await searchFixes(query, { limit: 100 })).results.map((r) => r.page);
async function answers(query: string) {
  const { answers: all } = await searchFixes(query);
  expect(await clueAnswers(query)).toEqual(all);
  return all.map((a) => `${a.machineId} ${a.kind} ${a.id}`);
}

const greyOrange = ['grey/orange', 'GRY-ORN', 'gy og', 'grey with an orange stripe', '8-3', 'OGGY', 'orange-grey'];
// The row input of Kestrel Post: written without any wire, pin or switch number; those follow from its switches.
const wordless = 'row-of-nests-gone-deaf';

describe('a repair whose text names no wire, pin or number', () => {
  test('is what the chosen page is', () => {
    expect(pageText(wordless)).not.toMatch(/gr[ae]y|orange|gry|8-3|A\d+[JP]\d/i);
    const prose = plainText(contentFrom(pageText(wordless)).doc);
    for (const sentence of prose.split(/(?<=[.!?])\s|\n/)) {
      const clues = readQuery(sentence, { machines: [], designs: [], thesaurus: [] }).filter((p) => p.as !== 'word');
      expect(clues, sentence).toEqual([]);
    }
  });
  test.each(greyOrange)('is found by its wire %s', async (query) => {
    const { results } = await searchFixes(query, { limit: 100 });
    expect(results.find((r) => r.page === wordless)?.why).toEqual(['grey/orange is on this repair']);
  });
  test.each(['A3J4-7', 'a3p4 pin 7', 'A3J4', 'switch 67', 'sw 66'])('is found by %s', async (query) => {
    expect(await pages(query)).toContain(wordless);
  });
});

describe('past fixes', () => {
  test('by switch number: those about it before those that share a line with it', async () => {
    const { results } = await searchFixes('sw 46', { narrow: { machine: 'lantern-regatta-3' } });
    const about = results.filter((r) => r.why.includes('is about 46 Spinner')).map((r) => r.page);
    expect(about).toContain('spinner-counts-half-its-turns');
    expect(results.slice(0, about.length).map((r) => r.page)).toEqual(about);
  });
  test('a switch number after a machine means the switch of that machine', async () => {
    expect(await pages('sw 46')).toContain('windfalls-pay-nothing'); // 46 of Tin Orchard is its windfall tray
    expect(await pages('Lantern Regatta sw 46')).not.toContain('windfalls-pay-nothing');
  });
  test('by the words of a symptom', async () => {
    const told = 'the spinner and the tide gate give up late in the evening when it is warm, from cold both are perfect';
    expect((await pages(told))[0]).toBe('tide-gate-and-spinner-give-up-late');
    expect((await pages('apples pay nothing'))[0]).toBe('windfalls-pay-nothing');
  });
  test('by words that stand only in the fix record', async () => {
    expect(plainText(contentFrom(pageText('boat-lock-flaky-again')).doc)).not.toMatch(/spinner/i);
    expect(await pages('spinner')).toContain('boat-lock-flaky-again');
    expect(await pages('U9')).toEqual([wordless]);
  });
  test.each([
    ['weathervane', 'spinner-counts-half-its-turns', 'spinner'],
    ['comes and goes', 'boat-lock-flaky-again', 'flaky'],
    ['intermittent', 'boat-lock-flaky-again', 'flaky'],
    ['paddle', 'left-flipper-lazy', 'flipper'],
  ])('by another word: %s finds %s', async (query, page, via) => {
    expect(pageText(page).toLowerCase()).not.toContain(query);
    const found = (await searchFixes(query, { limit: 100 })).results.find((r) => r.page === page);
    expect(found?.why).toContain(`says “${via}” for “${query}”`);
  });
  test('every result says why', async () => {
    for (const query of [...greyOrange, 'A3J4-7', 'sw 46', 'spinner misses when warm', 'Kestrel Post plug', 'SB-1']) {
      const { results, total } = await searchFixes(query, { limit: 100 });
      expect(results.length, query).toBeGreaterThan(0);
      expect(total).toBe(results.length);
      for (const { why, page } of results) expect(why.length, `${query}: ${page}`).toBeGreaterThan(0);
    }
  });
  test('the same fault on the same board design of another machine ranks above an unrelated word', async () => {
    // The damp-weather apple is another machine with another board; only its word fits.
    const order = await pages('Lantern Regatta damp A3J4-7');
    const sister = order.indexOf('weathervane-slows-as-the-evening-goes-on');
    const unrelated = order.indexOf('everything-fourth-misses-in-the-damp');
    expect(sister).toBeGreaterThanOrEqual(0);
    expect(unrelated === -1 || unrelated > sister).toBe(true);
  });
  test('are narrowed by machine and state, and cut at the limit', async () => {
    const open = await searchFixes('grey/orange', { narrow: { machine: 'lantern-regatta-3', state: 'open' } });
    expect(open.results.map((r) => r.page)).toEqual(['spinner-misses-counts-when-warm']);
    const cut = await searchFixes('grey/orange', { limit: 2 });
    expect(cut.results).toHaveLength(2);
    expect(cut.total).toBeGreaterThan(2);
  });
});

describe('the circuit itself', () => {
  test('a wire gives its line on each machine that has it', async () => {
    expect(await answers('grey-orange')).toEqual([
      'kestrel-post-1 line switch-row.6',
      'lantern-regatta-3 line switch-row.6',
      'tin-orchard line load.10',
    ]);
  });
  test('a notation without an order gives both lines of a machine that has both', async () => {
    expect((await answers('OGGY')).sort()).toEqual([
      'kestrel-post-1 line load.16',
      'kestrel-post-1 line switch-row.6',
      'lantern-regatta-3 line load.16',
      'lantern-regatta-3 line switch-row.6',
      'tin-orchard line load.10',
    ]);
  });
  test('a pin and a connector, where the board has them', async () => {
    expect(await answers('A3J4-7')).toEqual(['kestrel-post-1 pin A3J4-7', 'lantern-regatta-3 pin A3J4-7']);
    expect(await answers('A3J4')).toEqual(['kestrel-post-1 header A3J4', 'lantern-regatta-3 header A3J4']);
  });
  test('a name and a wire together give the switch, with its wires and pins', async () => {
    const { answers: all } = await searchFixes('spinner grey-orange');
    const spinner = all.find((a) => a.machineId === 'lantern-regatta-3');
    expect(spinner).toMatchObject({ kind: 'circuit', id: '46', wires: ['violet/yellow', 'grey/orange'] });
    expect(spinner?.pins).toContain('A3J4-7');
    expect(await answers('Lantern Regatta spinner grey-orange')).toEqual(['lantern-regatta-3 circuit 46']);
  });
  test.each([
    'drop',
    'switch',
    'it makes a noise like a wasp in the left corner after the coin door was shut',
    'balls went to sleep all over the machine and the game never noticed a hoist or middle mailbag',
  ])('“%s” names none', async (query) => expect(await answers(query)).toEqual([]));
  test('a sentence about a named part names that part alone', async () => {
    const found = await answers('spinner misbehaves badly whenever somebody really plays tonight');
    expect(found).toEqual(['lantern-regatta-3 circuit 46']);
  });
});

describe('whatever is typed', () => {
  test.each([
    '',
    '   ',
    '?!… -- //',
    ':*&|!',
    'spinner:* & (warm | !cold) <-> x',
    "'; drop table page; --",
    "' or 1=1",
    '\\',
    '%_%',
    'a\u0000b',
    'x\ud800y',
    '"unclosed',
    'the and of is',
    'ß'.repeat(299),
    'spinner grey/orange '.repeat(40),
    '46 '.repeat(200),
    'x'.repeat(2000),
  ])('%j never throws', async (query) => {
    const found = await searchFixes(query);
    expect(found.query.length).toBeLessThanOrEqual(300);
    expect(found.total).toBeLessThanOrEqual(pageNames.length);
  });
  test.each(['', '?!… -- //', ':*&|!', 'the and of is'])('%j finds nothing', async (query) => {
    expect(await searchFixes(query)).toMatchObject({ answers: [], results: [], total: 0 });
  });
});

describe('seen before', () => {
  test('the open spinner page: fixes at its pin first, never itself, nothing of another board', async () => {
    const seen = await seenBefore('spinner-misses-counts-when-warm', 100);
    const atPin = seen.filter((r) => r.place === 'A3J4-7').map((r) => r.page);
    expect(atPin.sort()).toEqual([
      'boat-lock-flaky-again',
      'sorting-lanes-fade-after-an-hour',
      'tide-gate-and-spinner-give-up-late',
      'weathervane-and-mailbag-lose-counts',
      'weathervane-slows-as-the-evening-goes-on',
    ]);
    expect(
      seen
        .slice(0, 5)
        .map((r) => r.page)
        .sort(),
    ).toEqual(atPin);
    expect(seen.slice(0, 5).every((r) => r.why[0] === 'was at A3J4-7 too')).toBe(true);
    expect(seen.map((r) => r.page)).not.toContain('spinner-misses-counts-when-warm');
    expect(seen.every((r) => r.state === 'mended' && r.why.length > 0)).toBe(true);
    // Number 46 of Tin Orchard is another switch on another board.
    const others = seen.filter((r) => r.machineId === 'tin-orchard').flatMap((r) => r.why);
    expect(others.filter((w) => /^(is about|touches)|shares a line/.test(w))).toEqual([]);
  });
  test('is cut at the limit; an unknown page has seen nothing', async () => {
    expect(await seenBefore('spinner-misses-counts-when-warm', 3)).toHaveLength(3);
    expect(await seenBefore('no-such-page', 5)).toEqual([]);
  });
});

describe('lists', () => {
  test('newest first, by machine and state', async () => {
    const all = await recentPages({ limit: 100 });
    expect(all).toHaveLength(pageNames.length);
    expect(all.map((p) => p.on)).toEqual(all.map((p) => p.on).sort((a, b) => b.localeCompare(a)));
    expect((await recentPages({ state: 'open', limit: 100 })).map((p) => p.id)).toEqual([
      'spinner-misses-counts-when-warm',
      'cart-stops-short-at-the-right',
      'mailbag-lets-go-early',
    ]);
    expect((await recentPages({ machine: null, limit: 100 })).map((p) => p.id)).toEqual(['how-we-crimp', 'bench-rules']);
    expect(await recentPages({ machine: 'lantern-regatta-3', state: 'mended', limit: 2 })).toHaveLength(2);
    const fix = all.find((p) => p.id === 'tide-gate-and-spinner-give-up-late');
    expect(fix).toMatchObject({
      machine: 'Lantern Regatta, no. 3',
      by: 'Ines Okafor',
      line: 'Cracked joint under a header at A3J4-7',
      state: 'mended',
    });
  });
  test('marks on the matrix: open switches, and past fixes of each', async () => {
    const pages = await circuitPages('lantern-regatta-3');
    const { open, past, unproved } = marksOfPages(pages);
    expect(Object.keys(open).sort()).toEqual(['26', '36', '46']);
    // Half its turns; late in the evening; boat lock; cash door.
    expect(past['46']).toBe(4);
    expect(pages.get('46')?.filter((p) => p.state === 'open')).toHaveLength(open['46'] ?? 0);
    expect(pages.get('46')?.filter((p) => p.state === 'mended' && !p.proved)).toHaveLength(unproved['46'] ?? 0);
    expect(marksOfPages(await circuitPages('kestrel-post-1')).past['46']).toBeUndefined();
  });
});

describe('changes', () => {
  const facts = async (page: string, kind: string) =>
    (
      await db.database.execute<{ value: string }>(sql`select value from page_fact where page = ${page} and kind = ${kind} order by value`)
    ).rows.map((r) => r.value);

  const allFacts = async (page: string) =>
    JSON.stringify(
      (await db.database.execute(sql`select kind, value, label from page_fact where page = ${page} order by kind, value`)).rows,
    );

  test('a chart that is as before changes no page; neither does a new machine', async () => {
    const machine = machineOf('tin-orchard');
    expect((await previewMachine(machine)).changed).toEqual([]);
    expect(await previewMachine({ ...machine, id: 'nobody-has-it' })).toEqual({ pages: 0, changed: [] });
  });

  test('a wire of a board design changes pages of every machine that has the design', async () => {
    const design = structuredClone((await getDesign('SB-2'))!.design);
    const net = design.nets.find((n) => n.id === 'switch-row.6')!;
    const was = net.colour;
    net.colour = 'grey/pink';
    const preview = await previewDesign(design);
    const machines = new Set(preview.changed.map((p) => p.id));
    expect(machines.has('nest-three-not-there')).toBe(true); // of Kestrel Post
    expect(machines.has('boat-lock-flaky-again')).toBe(true); // of Lantern Regatta
    for (const page of preview.changed) expect([...page.gains, ...page.loses].join(), page.id).toMatch(/grey\/pink|grey/);
    expect(preview.changed.some((p) => p.loses.includes(was) && p.gains.includes('grey/pink'))).toBe(true);
    expect((await previewDesign((await getDesign('SB-2'))!.design)).changed).toEqual([]);
  });

  test('an edit is found, and what it took away no longer', async () => {
    expect(await pages('cormorant')).toEqual([]);
    const before = await house.read('moon-lamp', contentOf);
    await house.change('moon-lamp', null, (doc) => writeContent(doc, contentFrom('# Moon lamp\n\nA cormorant sat on it.')));
    await indexNow('moon-lamp');
    expect(await pages('cormorant')).toEqual(['moon-lamp']);
    expect(await facts('moon-lamp', 'outcome')).toEqual([]);
    await house.change('moon-lamp', null, (doc) => writeContent(doc, before));
    await indexNow('moon-lamp');
    expect(await pages('cormorant')).toEqual([]);
  });

  test('a page that was indexed twice is there once', async () => {
    const before = await pages('grey/orange');
    await indexNow(wordless);
    expect(await pages('grey/orange')).toEqual(before);
  });

  test('a changed chart changes the facts of every page of its machine, and the answers', async () => {
    const kept = await getMachine('kestrel-post-1');
    const machine = machineOf('kestrel-post-1');
    const away = machine.switches.filter((s) => !(s.row === 6 && s.column === 2)); // switch 62, Nest 3
    expect(away).toHaveLength(machine.switches.length - 1);
    expect((await searchFixes('nest 3')).answers[0]).toMatchObject({ machineId: 'kestrel-post-1', id: '62' });
    expect((await facts('nest-three-not-there', 'wire')).length).toBeGreaterThan(0);
    const all = (await recentPages({ machine: 'kestrel-post-1', limit: 100 })).length;
    const preview = await previewMachine({ ...machine, switches: away });
    expect(preview.pages).toBe(all);
    expect(preview.changed.map((p) => p.id)).toContain('nest-three-not-there');
    expect(preview.changed.length).toBeLessThan(all);
    expect(await progressOf('machine', 'kestrel-post-1')).toEqual({ pages: all, left: 0 });
    const before = new Map<string, string>();
    for (const p of await recentPages({ machine: 'kestrel-post-1', limit: 100 })) before.set(p.id, await allFacts(p.id));
    expect((await putMachine({ ...machine, switches: away }, kept?.version ?? 0, null)).ok).toBe(true);
    expect(await progressOf('machine', 'kestrel-post-1')).toEqual({ pages: all, left: all });
    expect(await recomputeLater('machine', 'kestrel-post-1')).toBe(all);
    await expect.poll(() => progressOf('machine', 'kestrel-post-1'), { timeout: 10_000 }).toEqual({ pages: all, left: 0 });
    // The preview names exactly the pages whose facts are others now.
    const other: string[] = [];
    for (const [id, facts] of before) if ((await allFacts(id)) !== facts) other.push(id);
    expect(other.sort()).toEqual(preview.changed.map((p) => p.id).sort());
    expect(await facts('nest-three-not-there', 'circuit')).toContain('62'); // what the page says stays
    expect(await facts('nest-three-not-there', 'wire')).not.toContain('grey/orange'); // what the chart said is gone
    expect((await searchFixes('nest 3')).answers.map((a) => a.id)).not.toContain('62');
  });
});

describe('the index of this process', () => {
  test('lets go of a page that is removed, and has one that another server wrote, at the very next search', async () => {
    const rows = (await db.database.execute<{ n: number }>(sql`select count(*)::int as n from page_index`)).rows[0]!.n;
    expect(rows).toBe(pageNames.length);
    await db.database.execute(
      sql`update page_index set body = body || ' zeppelinish', written = pg_current_xact_id() where page = 'moon-lamp'`,
    );
    expect(await pages('zeppelinish')).toEqual(['moon-lamp']);
    await removePage('moon-lamp', null);
    expect(await pages('zeppelinish')).toEqual([]);
    await db.database.execute(sql`update page set removed_at = null where id = 'moon-lamp'`);
    await indexNow('moon-lamp');
    expect(await pages('zeppelinish')).toEqual([]);
    expect(await pages('moon lamp')).toContain('moon-lamp');
  });

  test('a reading can be corrected: what is struck out is not asked for, what is added is', async () => {
    const read = async (more: { not?: string[]; as?: string[] }) =>
      (await searchFixes('left flipper weak', more)).reading.terms.filter((t) => t.kind === 'does').map((t) => t.value);
    expect(await read({})).toEqual(['weak']);
    expect(await read({ not: ['does:weak'] })).toEqual([]);
    expect(await read({ not: ['does:weak'], as: ['does:hot', 'nonsense:x'] })).toEqual(['hot']);
  });
});

test('kept searches are their member’s own; the same one again only gets another name', async () => {
  await db.database.execute(
    sql`insert into "user" (id, name, email) values ('ines', 'Ines', 'i@club.example'), ('wen', 'Wen', 'w@club.example')`,
  );
  await saveSearch({ member: 'ines', name: 'Spinners', asked: 'q=spinner' });
  await saveSearch({ member: 'ines', name: 'All spinners', asked: 'q=spinner' });
  await saveSearch({ member: 'wen', name: 'Wires', asked: 'q=grey' });
  const [own] = await listSavedSearches('ines');
  expect(await listSavedSearches('ines')).toEqual([{ id: own?.id, name: 'All spinners', asked: 'q=spinner' }]);
  expect(await forgetSearch(own!.id, 'wen')).toBe(false);
  expect(await forgetSearch(own!.id, 'ines')).toBe(true);
  expect(await listSavedSearches('ines')).toEqual([]);
});
