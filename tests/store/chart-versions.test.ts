/** Two at one chart: what each saved is there, or each cell that cannot be is named. */
import { afterEach, beforeEach, expect, test } from 'vitest';
import { boardDesign, type Machine, machine } from '@/lib/core/chart/schema';
import { conflictWords, getVersion, listVersions } from '@/lib/store/charts';
import { getMachine, putDesign, putMachine } from '@/lib/store/machines';
import sb2 from '../../content/designs/sb-2.json';
import regattaJson from '../../content/machines/lantern-regatta-3.json';
import { type TestDatabase, testDatabase } from './cluster';

let db: TestDatabase;
const regatta = machine.parse(regattaJson);
beforeEach(async () => {
  db = await testDatabase();
  await putDesign(boardDesign.parse(sb2), null, null);
  await putMachine(regatta, null, null);
});
afterEach(() => db.close());

const named = (chart: Machine, index: number, name: string): Machine => ({
  ...chart,
  switches: chart.switches.map((s, i) => (i === index ? { ...s, name } : s)),
});

test('twenty at once, each at another switch: all of it is there, in twenty versions', async () => {
  const kept = await Promise.all(Array.from({ length: 20 }, (_, i) => putMachine(named(regatta, i, `Target ${i}`), 1, null)));
  expect(kept.every((k) => k.ok)).toBe(true);
  const now = await getMachine(regatta.id);
  expect(now?.version).toBe(21);
  expect(now?.machine.switches.slice(0, 20).map((s) => s.name)).toEqual(Array.from({ length: 20 }, (_, i) => `Target ${i}`));
  expect((await listVersions('machine', regatta.id)).map((v) => v.version)).toEqual(Array.from({ length: 21 }, (_, i) => 21 - i));
});

test('what others saved is told to who comes later', async () => {
  await putMachine(named(regatta, 2, 'Left gate'), 1, null);
  const later = await putMachine(named(regatta, 5, 'Right gate'), 1, null);
  expect(later.ok && later.merged.map((c) => c.after)).toEqual(['Left gate']);
  expect(await getVersion('machine', regatta.id, 3)).toMatchObject({ changes: [{ after: 'Right gate' }] });
  expect(((await getVersion<Machine>('machine', regatta.id, 1))?.chart.switches[2] ?? regatta.switches[2])?.name).toBe(
    regatta.switches[2]?.name,
  );
  expect(await getVersion('machine', regatta.id, 9)).toBeNull();
});

test('the same cell is refused with both values, and nothing of the later save is kept', async () => {
  await putMachine(named(regatta, 2, 'Left gate'), 1, null);
  const later = await putMachine(named(named(regatta, 2, 'Port gate'), 5, 'Right gate'), 1, null);
  const words = later.ok ? [] : later.conflicts.map((c) => conflictWords(c).message);
  expect(words).toHaveLength(1);
  expect(words[0]).toMatch(/name: you wrote “Port gate”, somebody else “Left gate”; before it was “.*”\./);
  expect((await getMachine(regatta.id))?.version).toBe(2);
});

test('two changes that break a rule only together are refused', async () => {
  const design = boardDesign.parse(sb2);
  const spare = { id: 'other.bell', kind: 'other' as const, colour: 'white', awg: 22 };
  const withNet = { ...design, nets: [...design.nets, spare] };
  expect(await putDesign(withNet, 1, null)).toMatchObject({ ok: true, version: 2 });
  // One takes the spare line out, the other puts it on a pin.
  expect(await putDesign(design, 2, null)).toMatchObject({ ok: true, version: 3 });
  const header = design.headers.find((h) => h.pins.length + h.keys.length < h.positions);
  const taken = new Set([...(header?.keys ?? []), ...(header?.pins ?? []).map((p) => p.position)]);
  const position = Array.from({ length: header?.positions ?? 0 }, (_, i) => i + 1).find((n) => !taken.has(n)) ?? 0;
  expect(position).toBeGreaterThan(0);
  const headers = withNet.headers.map((h) => (h === header ? { ...h, pins: [...h.pins, { position, net: spare.id }] } : h));
  const later = await putDesign({ ...withNet, headers }, 2, null);
  expect(later.ok ? [] : later.conflicts.map((c) => c.label).join(' ')).toMatch(/^Both changes together: .*other\.bell/);
});

test('saving what is there already makes no version', async () => {
  expect(await putMachine(regatta, 1, null)).toMatchObject({ ok: true, version: 1 });
  expect(await listVersions('machine', regatta.id)).toHaveLength(1);
});
