import { describe, expect, it } from 'vitest';
import { indexChart } from '@/lib/core/chart';
import { fixtureChart, fixtureDesign, fixtureMachine } from './fixture';

describe('indexChart', () => {
  it('derives taps, in header order, from the pins', () => {
    expect(fixtureChart.taps.get('switch-row.6')?.map((t) => t.pin)).toEqual(['A3J4-7', 'A3J5-2']);
    expect(fixtureChart.pins.get('A3J6-5')?.net).toBe('switch-column.4');
  });

  it('fills a wire from its net, and its own gauge first', () => {
    expect(fixtureChart.pins.get('A3J4-7')?.wires).toEqual([{ colour: 'grey/orange', awg: 24, insulationMm: 1.3, insulationKnown: true }]);
    expect(fixtureChart.pins.get('A3J4-11')?.wires.map((w) => [w.colour, w.awg])).toEqual([
      ['black', 22],
      ['black', 22],
    ]);
    expect(fixtureChart.pins.get('A2J3-1')?.wires[0]?.insulationKnown).toBe(false);
  });

  it('says what is behind a tap', () => {
    expect(fixtureChart.pins.get('A3J4-7')).toMatchObject({
      goesTo: 'Splice S2, then 16 and 46',
      behind: ['16', '46', '26', '36', '56', '66', '76'],
    });
    expect(fixtureChart.pins.get('A3J6-5')?.goesTo).toBe('41 Kicker left');
    expect(fixtureChart.pins.get('A3J4-11')).toMatchObject({ goesTo: '', behind: [] });
  });

  it('lists circuits by column then row, direct ones last', () => {
    expect(fixtureChart.circuit.get('46')).toMatchObject({
      name: 'Spinner',
      nets: ['switch-column.4', 'switch-row.6'],
      diode: 'at the switch',
    });
    expect(fixtureChart.circuits.map((c) => c.number).slice(0, 3)).toEqual(['11', '12', '16']);
    expect(fixtureChart.circuits.map((c) => c.number).slice(-2)).toEqual(['D1', 'D2']);
    expect(fixtureChart.title).toBe('Lantern Regatta, no. 3');
    expect(fixtureChart.lamps.map((l) => l.number)).toEqual(['11', '12', '21']);
  });

  it('indexes a chart full of mistakes', () => {
    const chart = indexChart(
      {
        ...fixtureMachine,
        switches: [...fixtureMachine.switches, { ...fixtureMachine.switches[0]!, column: 15, row: 16, name: 'Nowhere' }],
        direct: [{ ...fixtureMachine.direct[0]!, net: 'direct.63' }],
        chains: [{ tap: 'A9J9-9', steps: [{ switch: 'ZZ' }] }],
      },
      {
        ...fixtureDesign,
        nets: fixtureDesign.nets.filter((n) => n.id !== 'switch-row.6'),
        headers: [
          ...fixtureDesign.headers,
          fixtureDesign.headers[0]!,
          { ...fixtureDesign.headers[0]!, id: 'A1J9', keys: [99], pins: [{ position: 60, net: 'other.none' }] },
        ],
      },
    );
    expect(chart.circuit.get('46')?.nets).toEqual(['switch-column.4', 'switch-row.6']);
    expect(chart.pins.get('A1J9-60')).toMatchObject({ net: 'other.none', wires: [{ colour: '', awg: 22, insulationKnown: false }] });
    expect(chart.columns.at(-1)).toBe(15);
    expect(chart.headers.size).toBe(fixtureDesign.headers.length + 1);
  });
});
