/** Plans for the halves of in-line connectors. Wire order: seen at the wire entries, one half is the mirror of the other (common practice, no source). Parts are invented. */
import { describe, expect, it } from 'vitest';
import catalogueFile from '@/content/catalogue.json';
import { headerIn, headersAndHalves, indexChart, orderOf, rowsInView } from '@/lib/core/chart';
import { type Machine, machine } from '@/lib/core/chart/schema';
import { planConnector } from '@/lib/core/harness';
import { partsFor } from '@/lib/core/harness/contacts';
import { planHousings } from '@/lib/core/harness/job';
import type { ConnectorPlan } from '@/lib/core/harness/types';
import { faceView, fadedCandidates, lookup } from '@/lib/core/lookup';
import { type Catalogue, catalogue as shape } from '@/lib/core/parts/schema';
import { designOf, machineOf } from './entry-pastes';

const catalogue = shape.parse(catalogueFile);
const design = designOf('sb-1');
const orchard = machineOf('tin-orchard');
const plan = (half: string, m: Machine = orchard, parts: Catalogue = catalogue): ConnectorPlan => {
  const result = planConnector(
    indexChart(m, design),
    half,
    parts,
    { 'H-254-9': 3, 'H-254-9P': 2, 'T-254-S': 90, 'T-254-P': 40 },
    { headerSide: 'replace', saveKey: false },
  );
  if (!result.ok) throw new Error(result.message);
  return result.plan;
};
const errors = (p: ConnectorPlan) => p.problems.filter(({ level }) => level === 'error').map(({ message }) => message);

describe('the plan for either half', () => {
  const [near, far] = [plan('X1B'), plan('X1F')];

  it('has its own wires, and says where each goes', () => {
    expect(near.rows[0]).toMatchObject({ position: 1, wires: [{ colour: 'green/white' }], goesTo: 'A1P10-1', net: 'switch-column.2' });
    expect(far.rows[0]).toMatchObject({ position: 1, wires: [{ colour: 'yellow/red' }], goesTo: '13 Cart stop 5', net: 'switch-column.2' });
    expect(far.rows.map((row) => row.net)).toEqual(near.rows.map((row) => row.net));
    expect(errors(near)).toEqual([]);
    expect(errors(far)).toEqual([]);
  });

  it('takes terminals that meet those of the other half, and a housing for them', () => {
    expect([near.half?.contacts, far.half?.contacts]).toEqual(['sockets', 'pins']);
    expect(near.terminals.map((t) => t.part)).toEqual(['T-254-S']);
    expect(far.terminals.map((t) => t.part)).toEqual(['T-254-P']);
    expect(near.housing).toMatchObject({ how: 'cut', part: 'H-254-9', positions: 7 });
    expect(far.housing).toMatchObject({ how: 'cut', part: 'H-254-9P', positions: 7 });
    expect(errors(plan('X1F', orchard, partsFor(catalogue, 'sockets')))[0]).toContain(
      'X1F-1, yellow/red 26 AWG: there is no terminal of 2.54 mm',
    );
  });

  it('plugs the key of the sockets and leaves out the pin opposite', () => {
    expect([near.keys.positions, far.keys.positions]).toEqual([[5], [5]]);
    expect(near.needs.filter((n) => n.name.startsWith('Keying plug'))).toHaveLength(1);
    expect(far.needs.filter((n) => n.name.startsWith('Keying plug'))).toEqual([]);
    expect(near.steps.find((s) => s.id === 'key')?.title).toBe('Keying plug in position 5');
    expect(far.steps.find((s) => s.id === 'key')?.title).toBe('Position 5 stays without a pin');
  });

  it('has nothing to do on a board', () => {
    for (const p of [near, far]) {
      expect(p.newHeader).toBeNull();
      expect(p.steps.map((s) => s.id)).not.toContain('header');
      expect(p.steps.map((s) => `${s.title} ${s.detail}`).join(' ')).not.toMatch(/header/i);
    }
    expect(far.steps.find((s) => s.id === 'reseat')?.title).toBe('X1F and X1B together, batteries in, power on');
  });

  it('takes the keys as found on this machine, each half from the other', () => {
    const found = machine.parse({ ...orchard, keysAsFound: [{ header: 'X1', plug: [2], on: '2026-01-09', by: 'Wen' }] });
    expect(plan('X1F', found).keys.positions).toEqual([2]);
    expect(plan('X1B', found).keys.positions).toEqual([5]);
    expect(plan('X1B', found).problems.map((p) => p.message)).toContain('X1, half towards the boards was found keyed at 2, X1F at 5.');
  });

  it('shows what was found otherwise at its positions', () => {
    const found = machine.parse({
      ...orchard,
      asFound: [
        {
          id: 'x',
          on: '2026-01-09',
          by: 'Wen',
          place: { pin: 'X1-3' },
          manual: 'white/green',
          here: 'pink',
          wire: 'pink',
          why: 'Mended on the road',
        },
      ],
    });
    expect(plan('X1F', found).rows[2]?.found).toEqual(['pink']);
    expect(plan('X1F', found).asFound.map(({ where }) => where)).toEqual(['X1F-3']);
  });

  it('leaves the plans for headers to sockets', () => {
    const header = indexChart(orchard, design).headers.get('A1J10');
    const job = planHousings(header ? [{ id: 'A1J10', header: { ...header, positions: 9 } }] : [], catalogue, { 'H-254-9P': 9 });
    expect(job.connectors.map(({ part }) => part)).toEqual(['H-254-9']);
  });

  it('shares a strip of a job with what takes the same contacts', () => {
    const chart = indexChart(orchard, design);
    const connectors = (['X1B', 'X1F', 'A1J10'] as const).map((id) => {
      const there = headerIn(chart, id);
      if (!there) throw new Error(id);
      return { id, header: { ...there.header, positions: 4 }, contacts: there.half?.contacts ?? ('sockets' as const) };
    });
    const job = planHousings(connectors, catalogue, { 'H-254-9': 1, 'H-254-9P': 1 });
    const partOf = new Map(job.connectors.map(({ id, part, strip }) => [id, [part, strip]]));
    expect(partOf.get('X1B')).toEqual(partOf.get('A1J10'));
    expect(partOf.get('X1B')?.[0]).toBe('H-254-9');
    expect(partOf.get('X1F')?.[0]).toBe('H-254-9P');
    const none = planHousings(connectors, partsFor(catalogue, 'sockets'), { 'H-254-9': 1 });
    expect(none.refused).toEqual([
      {
        id: 'X1F',
        message: 'No housing for X1F, 4 positions at 2.54 mm, is in the catalogue.',
        mend: 'Add a housing of 2.54 mm to the catalogue.',
      },
    ]);
  });

  it('stands among the connectors to choose from, and is found by its name', () => {
    const chart = indexChart(orchard, design);
    const ids = headersAndHalves(chart).map(({ id }) => id);
    expect(ids).toEqual([...chart.headers.keys(), 'X1B', 'X1F']);
    expect(ids.map((id) => headerIn(chart, id)?.header.id)).toEqual(ids);
    expect([headerIn(chart, 'X1'), headerIn(chart, 'X2F'), headerIn(chart, 'A9J9')]).toEqual([null, null, null]);
  });

  it('names the halves where there is no such header', () => {
    const none = planConnector(indexChart(orchard, design), 'X9F', catalogue, {}, { headerSide: 'sound', saveKey: false });
    expect(none.ok ? '' : none.mend).toMatch(/X1B, X1F\.$/);
  });
});

describe('the faces', () => {
  const chart = indexChart(orchard, design);
  it('at the wire entries one half is the mirror of the other; contact to contact they meet', () => {
    expect(orderOf(7, 'Q1')).toEqual([...orderOf(7, 'P1')].reverse());
    // Laid face to face, the reader of one sees the other from behind.
    expect(orderOf(7, 'Q2')).toEqual([...orderOf(7, 'P2')].reverse());
    expect(rowsInView({ positions: 7, keys: [] }, 'Q1')).toEqual([[7, 6, 5, 4, 3, 2, 1]]);
  });
  it('are drawn of both halves', () => {
    expect(faceView(chart, 'X1F', [1])?.contacts).toBe('pins');
    expect(faceView(chart, 'X1B')?.contacts).toBeUndefined();
    expect(faceView(chart, 'X1F')?.positions.map((p) => p.wires[0]?.colour ?? p.label)).toEqual([
      'yellow/red',
      'yellow/violet',
      'white/green',
      'white/blue',
      'key',
      'black/yellow',
      chart.nets.get('ground')?.colour,
    ]);
  });
});

describe('a wire that was seen', () => {
  const chart = indexChart(orchard, design);
  const seen = (place: { header?: string; nets?: string[] }) =>
    fadedCandidates(chart, place, { words: 'yellow/violet' }).flatMap(({ wire, pins, difference }) =>
      difference === 0 ? [[wire, ...pins]] : [],
    );
  it('is one of the half that is chosen', () => {
    expect(seen({ header: 'X1F' })).toEqual([['yellow/violet', 'X1F-2']]);
    expect(seen({ header: 'X1B' })).toEqual([]);
  });
  it('is found on its line and in the whole chart too, in either half', () => {
    expect(seen({ nets: [chart.through.get('X1-2')?.net ?? ''] })).toEqual([['yellow/violet', 'X1F-2']]);
    expect(seen({})).toContainEqual(['yellow/violet', 'X1F-2']);
  });
  it('is of the colour that was found on the machine, in both halves of the position', () => {
    const note = { id: 'x', on: '2026-01-09', by: 'Wen', manual: 'yellow/violet', here: 'pink', wire: 'pink', why: 'Mended on the road' };
    const found = machine.parse({ ...orchard, asFound: [{ ...note, place: { pin: 'X1-2' } }] });
    const [pink] = fadedCandidates(indexChart(found, design), { header: 'X1F' }, { words: 'pink' });
    expect(pink).toMatchObject({ wire: 'pink', pins: ['X1F-2'] });
  });
});

describe('a lookup', () => {
  const chart = indexChart(orchard, design);
  const one = (clue: string) => {
    const result = lookup(chart, clue);
    if (result.outcome !== 'one') throw new Error(`${clue}: ${result.outcome}`);
    return result;
  };
  it('names the in-line connector between both ends of a circuit', () => {
    const { circuit } = one('14');
    expect(circuit?.lines.map(({ through }) => through.map(({ pin, place }) => `${pin} ${place}`))).toEqual([
      ['X1-1 under the cart rail, left end'],
      ['X1-4 under the cart rail, left end'],
    ]);
    expect(one('09').circuit?.lines.flatMap(({ through }) => through)).toEqual([]);
  });
  it.each(['X1-1', 'x1 pin 1', 'X1 1', 'x1.1'])('finds a position written as %s', (clue) => {
    const { candidate, line, far, circuits } = one(clue);
    expect([candidate.kind, candidate.id, candidate.reasons]).toEqual(['pin', 'X1-1', ['X1-1 carries column 2']]);
    expect(line?.through.map(({ pin }) => pin)).toEqual(['X1-1']);
    expect(far?.positions.filter(({ lit }) => lit).map(({ position }) => position)).toEqual([1]);
    expect(circuits.map((c) => c.number)).toEqual(['13', '14', '15', '16']);
  });
  it('finds the connector, a wire of its far half, and says what is not there', () => {
    expect(one('X1')).toMatchObject({ candidate: { kind: 'header', id: 'X1' }, face: { housing: 'X1B' }, far: { housing: 'X1F' } });
    for (const half of ['X1B', 'x1f']) expect(one(half).candidate).toMatchObject({ kind: 'header', id: 'X1' });
    expect(one('X1F-2').candidate).toMatchObject({ kind: 'pin', id: 'X1-2' });
    expect(one('yellow-violet').candidate.id).toBe('X1-2');
    expect(lookup(chart, 'X1-9')).toMatchObject({
      outcome: 'none',
      advice: expect.arrayContaining([expect.stringContaining('X1 has positions 1 to 7')]),
    });
    expect(lookup(chart, 'X7')).toMatchObject({ outcome: 'none' });
  });
  it('reads a switch that is numbered X1', () => {
    const plain = machine.parse({ ...machineOf('kestrel-post-1'), direct: [{ number: 'X1', net: 'direct.1', name: 'Bell pull' }] });
    const result = lookup(indexChart(plain, designOf(plain.design.toLowerCase())), 'X1');
    expect(result).toMatchObject({ outcome: 'one', candidate: { kind: 'circuit', id: 'X1' } });
  });
  it('says how far a sibling clears the way', () => {
    expect(one('14').circuit?.siblings.find((s) => s.number === '13' && s.shares === 'branch')?.clears).toContain('as far as 13');
  });
});
