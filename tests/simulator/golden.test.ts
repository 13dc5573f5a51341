/** Readings of single faults and pairs. Source: fault model of the project, §2.3, checked by script and a d.c. solution. */
import { describe, expect, it } from 'vitest';
import { column, type HeldIn, hold, row } from './held';
import type { Physical } from './types';

const shown = (held: string[], faults: Physical[], rest: Partial<HeldIn> = {}) => hold({ held, faults, ...rest }).shown;
const bypassed = (number: string): Physical => ({ does: 'diode-bypassed', switch: number });
const reversed = (number: string): Physical => ({ does: 'diode-reversed', switch: number });

describe('golden case 1: the ghost rule', () => {
  const corners = ['11', '12', '22'];
  it('healthy', () => expect(shown(corners, [])).toEqual(corners));
  it('the diagonal shorted', () => expect(shown(corners, [bypassed('12')])).toEqual(['11', '12', '21', '22']));
  it('the diagonal reversed', () => expect(shown(corners, [reversed('12')])).toEqual(['11', '21', '22']));
  it.each(['11', '22'])('%s shorted makes no ghost', (n) => expect(shown(corners, [bypassed(n)])).toEqual(corners));
  it.each(['11', '22'])('%s reversed makes no ghost', (n) => expect(shown(corners, [reversed(n)])).toEqual(corners.filter((c) => c !== n)));
  it('one innocent corner released', () => {
    expect(shown(['11', '12'], [bypassed('12')])).toEqual(['11', '12']);
    expect(shown(['12', '22'], [bypassed('12')])).toEqual(['12', '22']);
  });
});

describe('golden case 2: 11 and 23 held', () => {
  const held = ['11', '23'];
  it('column 1 stuck', () => expect(shown(held, [{ does: 'driver-on', line: column(1) }])).toEqual(['11', '21', '23', '31']));
  it('column 1 to ground', () => expect(shown(held, [{ does: 'to-ground', line: column(1) }])).toEqual(['11', '21', '23', '31']));
  it('columns 1 and 2 shorted, rows 1 and 3 shorted: the same', () => {
    expect(shown(held, [{ does: 'join', lines: [column(1), column(2)] }])).toEqual(['11', '13', '21', '23']);
    expect(shown(held, [{ does: 'join', lines: [row(1), row(3)] }])).toEqual(['11', '13', '21', '23']);
  });
  it('11 alone tells them apart', () => {
    expect(shown(['11'], [{ does: 'join', lines: [column(1), column(2)] }])).toEqual(['11', '21']);
    expect(shown(['11'], [{ does: 'join', lines: [row(1), row(3)] }])).toEqual(['11', '13']);
  });
  it('column 1 to row 2', () => {
    expect(shown([], [{ does: 'bypass-both', switch: '12' }])).toEqual(['12']);
    expect(shown(['11', '22'], [{ does: 'bypass-both', switch: '12' }])).toEqual(['11', '12', '21', '22']);
  });
});

describe('golden pairs', () => {
  const stairs = ['11', '12', '22', '23', '33'];
  it('two diodes', () => {
    expect(shown(stairs, [bypassed('12')])).toEqual([...stairs, '21'].sort());
    expect(shown(stairs, [bypassed('23')])).toEqual([...stairs, '32'].sort());
    expect(shown(stairs, [bypassed('12'), bypassed('23')])).toEqual([...stairs, '21', '31', '32'].sort());
  });
  it('driver dead and column grounded reads as grounded', () => {
    const dead: Physical = { does: 'open', at: { place: 'driver', line: column(1) } };
    expect(shown(['11'], [dead, { does: 'to-ground', line: column(1) }])).toEqual(['11', '21', '31']);
    expect(shown(['11'], [dead])).toEqual([]);
  });
});

describe('the rest of the table, polarity low', () => {
  it('row to ground: the whole row at rest', () => expect(shown([], [{ does: 'to-ground', line: row(2) }])).toEqual(['12', '22', '32']));
  it('row to supply: nothing of the row', () => expect(shown(['12', '21'], [{ does: 'to-supply', line: row(2) }])).toEqual(['21']));
  it('row to supply: pressing it overloads the driver of its column', () => {
    expect(hold({ held: ['12'], faults: [{ does: 'to-supply', line: row(2) }] }).scan.peakDriverAmps).toBeGreaterThan(0.5);
  });
  it('column to supply: the column is dead', () => {
    expect(shown(['12', '22'], [{ does: 'to-supply', line: column(1) }])).toEqual(['22']);
  });
  it('a short beyond a break acts on its island only', () => {
    const cut: Physical = { does: 'open', at: { place: 'pin', pin: 'A1J2-2' } };
    expect(shown(['12', '11'], [{ does: 'to-ground', line: row(2) }, cut])).toEqual(['11']);
  });
  it('contact bypassed: always, no ghost', () => {
    const fault: Physical = { does: 'contact-closed', switch: '12' };
    expect(shown([], [fault])).toEqual(['12']);
    expect(shown(['11', '22'], [fault])).toEqual(['11', '12', '22']);
  });
  it('middle to ground, diode on the column side: the row while pressed', () => {
    const fault: Physical = { does: 'middle-to-ground', switch: '12' };
    expect(shown([], [fault])).toEqual([]);
    expect(shown(['12'], [fault])).toEqual(['12', '22', '32']);
  });
  it('middle to ground, diode on the row side: the row always, and the column grounded while pressed', () => {
    const fault: Physical = { does: 'middle-to-ground', switch: '12' };
    const matrix = { diodeEnd: 'row-contact' } as const;
    expect(shown([], [fault], { matrix })).toEqual(['12', '22', '32']);
    expect(shown(['12', '13'], [fault], { matrix })).toEqual(['12', '13', '22', '23', '32', '33']);
  });
  it('input stuck: readings forced, the harness voltage normal', () => {
    const found = hold({ held: ['11'], faults: [{ does: 'input-reads', line: row(2), reads: 'closed' }] });
    expect(found.shown).toEqual(['11', '12', '22', '32']);
    expect(found.volts('12')).toBeGreaterThan(11.9);
    expect(shown(['12', '11'], [{ does: 'input-reads', line: row(2), reads: 'open' }])).toEqual(['11']);
  });
  it('pull open reads as the design says', () => {
    const fault: Physical = { does: 'pull-open', line: row(2) };
    expect(shown(['12'], [fault], { matrix: { floatReads: 'open' } })).toEqual(['12']);
    expect(shown([], [fault], { matrix: { floatReads: 'closed' } })).toEqual(['12', '22', '32']);
    expect(shown(['12'], [fault], { matrix: { floatReads: 'carry-over' } })).toEqual(['12', '22']);
  });
  it('select bit stuck: a press shows in both columns, the other is dead', () => {
    const fault: Physical = { does: 'select-stuck', bit: 0, at: 0 };
    const matrix = { select: 'decoder' } as const;
    expect(shown(['11'], [fault], { matrix, size: [4, 4] })).toEqual(['11', '21']);
    expect(shown(['21'], [fault], { matrix, size: [4, 4] })).toEqual([]);
  });
  it('wires exchanged: the other number', () => {
    expect(shown(['11'], [{ does: 'exchanged', lines: [column(1), column(3)] }])).toEqual(['31']);
    expect(shown(['11'], [{ does: 'exchanged', lines: [row(1), row(3)] }])).toEqual(['13']);
  });
  it('housing shifted: a permutation, and the line pushed off is dead', () => {
    expect(shown(['11', '31'], [{ does: 'shifted', header: 'A1J1', by: 1 }])).toEqual(['21']);
    expect(shown(['11', '31'], [{ does: 'shifted', header: 'A1J1', by: -1 }])).toEqual(['21']);
  });
  it('unplugged: nothing', () => expect(shown(['11'], [{ does: 'unplugged', header: 'A1J2' }])).toEqual([]));
  it('a package: its lines only', () => {
    expect(shown(['11', '15'], [{ does: 'open', at: { place: 'package', part: 'U2' } }], { size: [6, 6] })).toEqual(['15']);
  });
});

describe('a break serves the switches beyond it', () => {
  const all = ['11', '12', '13', '14'];
  const size = [4, 4] as const;
  it.each<[Physical, string[]]>([
    [{ does: 'open', at: { place: 'segment', pin: 'A1J1-1', to: '13' } }, ['11', '12']],
    [{ does: 'open', at: { place: 'join', pin: 'A1J1-1', switch: '13' } }, ['11', '12']],
    [{ does: 'open', at: { place: 'lug', switch: '13', side: 'column' } }, ['11', '12', '14']],
    [{ does: 'open', at: { place: 'lug', switch: '13', side: 'row' } }, ['11', '12', '14']],
    [{ does: 'open', at: { place: 'terminal', pin: 'A1J1-1' } }, []],
    [{ does: 'open', at: { place: 'joint', pin: 'A1J2-2' } }, ['11', '13', '14']],
  ])('%j', (fault, left) => expect(shown(all, [fault], { size })).toEqual(left));
});

describe('push-pull idle columns', () => {
  const matrix = { idle: 'driven' } as const;
  it('healthy closures read, nobody contends', () => {
    const found = hold({ held: ['11', '12', '22'], faults: [], matrix });
    expect(found.shown).toEqual(['11', '12', '22']);
    expect(found.scan.peakDriverAmps).toBeLessThan(0.04);
  });
  it('a bypassed diode kills its row mates when the idle side is as strong', () => {
    const found = hold({ held: ['12', '22'], faults: [bypassed('12')], matrix });
    expect(found.shown).toEqual(['12']);
    expect(found.scan.peakDriverAmps).toBeGreaterThan(0.5);
  });
  it('no ghost comes, and the strobing side wins when the idle side is weak', () => {
    expect(shown(['11', '12', '22'], [bypassed('12')], { matrix })).not.toContain('21');
    expect(shown(['12', '22'], [bypassed('12')], { matrix, values: { idleOhms: 150 } })).toEqual(['12', '22']);
  });
  it('two shorted columns contend', () => {
    const found = hold({ held: ['11'], faults: [{ does: 'join', lines: [column(1), column(2)] }], matrix });
    expect(found.scan.peakDriverAmps).toBeGreaterThan(0.5);
  });
  it('column 1 to row 1: row 1 reads in column 1 only', () => {
    expect(shown(['21'], [{ does: 'bypass-both', switch: '11' }], { matrix })).toEqual(['11']);
    expect(shown(['22'], [{ does: 'bypass-both', switch: '11' }], { matrix })).toEqual(['11', '22']);
  });
});
