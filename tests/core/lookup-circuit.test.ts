/** What a circuit's view shows: lines, faces, what to press, what it clears (trade-judgement: siblings are told per tap). */
import { describe, expect, it } from 'vitest';
import { indexChart } from '@/lib/core/chart';
import { circuitView, faceView, lineView } from '@/lib/core/lookup';
import { fixtureChart, fixtureDesign, fixtureMachine } from './fixture';

const view = (number: string) => circuitView(fixtureChart, number)!;
const clears = (number: string, of: string) => view(of).siblings.find((s) => s.number === number && s.shares !== 'connector')?.clears;

describe('faceView', () => {
  it('gives every position in order, key, labels and lit ones', () => {
    const face = faceView(fixtureChart, 'A3J4', [7])!;
    expect(face.housing).toBe('A3P4');
    expect(face.positions.map((p) => p.position)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
    expect(face.positions[3]).toEqual({ position: 4, key: true, wires: [], net: '', label: 'key', lit: false });
    expect(face.positions[6]).toMatchObject({ label: 'Row 6', lit: true, net: 'switch-row.6' });
    expect(face.positions[10]?.wires).toHaveLength(2);
    expect(faceView(fixtureChart, 'A3J6')?.positions[1]?.label).toBe('key');
    expect(faceView(fixtureChart, 'A9J9')).toBeNull();
  });
});

describe('lineView', () => {
  it('names the part and what it does, as the board strobes', () => {
    expect(lineView(fixtureChart, 'switch-column.4')).toMatchObject({
      title: 'Column 4',
      part: 'U14',
      does: 'driven by',
      colour: 'violet/yellow',
    });
    expect(lineView(fixtureChart, 'switch-row.6')).toMatchObject({ part: 'U9', does: 'read by' });
    const turned = indexChart(fixtureMachine, { ...fixtureDesign, matrix: { ...fixtureDesign.matrix, strobe: 'row' } });
    expect(lineView(turned, 'switch-row.6')?.does).toBe('driven by');
    expect(lineView(turned, 'switch-column.4')?.does).toBe('read by');
    expect(lineView(fixtureChart, 'supply.coil')).toMatchObject({ part: '', does: '' });
    expect(lineView(fixtureChart, 'switch-row.9')).toBeNull();
  });

  it('lights the pins asked for, and puts them first', () => {
    const line = lineView(fixtureChart, 'switch-row.6', ['A3J5-2'])!;
    expect(line.taps.map((t) => t.pin)).toEqual(['A3J5-2', 'A3J4-7']);
    expect(line.faces.map((f) => f.positions.some((p) => p.lit))).toEqual([true, false]);
  });
});

describe('circuitView', () => {
  it('shows column then row, each with the tap that the switch hangs on first', () => {
    expect(view('46').lines.map((l) => [l.title, l.colour, l.taps.map((t) => t.pin)])).toEqual([
      ['Column 4', 'violet/yellow', ['A3J6-5']],
      ['Row 6', 'grey/orange', ['A3J4-7', 'A3J5-2']],
    ]);
    expect(view('86').lines[1]?.taps.map((t) => t.pin)).toEqual(['A3J5-2', 'A3J4-7']);
    expect(circuitView(fixtureChart, '99')).toBeNull();
  });

  it('says how far each sibling clears its line', () => {
    expect(clears('45', '46')).toBe(
      'When 45 answers, column 4 works from the board through A3J6-5 as far as 45; the rest of the way to 46 stays in doubt.',
    );
    expect(clears('47', '46')).toBe('When 47 answers, column 4 works from the board through A3J6-5 as far as the lug of 46 itself.');
    expect(clears('16', '46')).toContain('as far as splice S2; the rest of the way to 46 stays in doubt');
    expect(clears('86', '46')).toBe('86 hangs on A3J5-2: when it answers, row 6 works at the board, but A3J4-7 stays in doubt.');
  });

  it('lists a mate on the same tap as branch, one on another tap by its line, and neighbours on the connector', () => {
    const shares = Object.fromEntries(view('46').siblings.map((s) => [`${s.number} ${s.shares}`, s.clears]));
    expect(Object.keys(shares)).toEqual(
      expect.arrayContaining(['45 branch', '26 branch', '86 row', '75 connector', '31 connector', 'D2 connector']),
    );
    expect(view('46').siblings.map((s) => `${s.shares} ${s.number}`)).toHaveLength(
      new Set(view('46').siblings.map((s) => `${s.shares} ${s.number}`)).size,
    );
  });

  it('presses two on each line: one that clears the whole way, one that parts it in the middle', () => {
    expect(view('46').press.map((s) => `${s.shares} ${s.number}`)).toEqual(['column 47', 'column 44', 'row 26', 'row 16']);
    expect(
      view('48')
        .press.filter((s) => s.shares === 'column')
        .map((s) => s.number),
    ).toEqual(['45', '47']);
    for (const circuit of fixtureChart.circuits) {
      const { press } = view(circuit.number);
      expect(press.length).toBeLessThanOrEqual(4);
      expect(press.map((s) => s.number)).not.toContain(circuit.number);
      for (const axis of ['column', 'row']) expect(press.filter((s) => s.shares === axis).length).toBeLessThanOrEqual(2);
    }
  });

  it('offers a direct switch its neighbours on the connector', () => {
    expect(view('D2').press.map((s) => s.shares)).toEqual(['connector']);
    expect(view('D2').press[0]?.clears).toContain('A3J4 is not off altogether');
  });

  it('does not make up an order where the chart tells none', () => {
    const plain = indexChart({ ...fixtureMachine, chains: [] }, fixtureDesign);
    const spinner = circuitView(plain, '46')!;
    expect(spinner.press).toHaveLength(4);
    for (const s of spinner.press) expect(s.clears).toContain('the chart does not say');
  });

  it('carries deviations by the narrowest place they name', () => {
    expect(view('44').asFound.map((d) => d.id)).toEqual(['right-sling-row']);
    expect(view('46').asFound).toEqual([]);
    const at = (place: { switch?: string; pin?: string; net?: string }) =>
      indexChart({ ...fixtureMachine, asFound: [{ ...fixtureMachine.asFound[0]!, place }] }, fixtureDesign);
    const touched = (place: Parameters<typeof at>[0]) =>
      at(place).circuits.flatMap((c) => (circuitView(at(place), c.number)!.asFound.length ? [c.number] : []));
    expect(touched({ pin: 'A3J5-2', net: 'switch-row.6' })).toEqual(['86']);
    expect(touched({ net: 'switch-row.6' })).toEqual(['16', '26', '36', '46', '56', '66', '76', '86']);
  });
});
