/** Everything a bench needs of the one thing that a clue meant. */
import { halfName, isInline, splitInline } from '../chart/inline';
import { splitPin } from '../chart/names';
import type { Chart } from '../chart/types';
import { perChart } from './per-chart';
import { keyOf } from './things';
import type { Candidate, LookupResult } from './types';
import { circuitView, faceView, lineView } from './view';

export type Answer = Pick<Extract<LookupResult, { outcome: 'one' }>, 'circuit' | 'line' | 'face' | 'far' | 'circuits'>;

const answers = perChart(() => new Map<string, Answer>());

export function answerOf(chart: Chart, { kind, id }: Pick<Candidate, 'kind' | 'id'>): Answer {
  const kept = answers(chart);
  const key = keyOf(kind, id);
  const known = kept.get(key) ?? makeAnswer(chart, kind, id);
  kept.set(key, known);
  return known;
}

const halvesOf = (chart: Chart, connector: string, lit: readonly number[] = []): Pick<Answer, 'face' | 'far'> => ({
  face: faceView(chart, halfName(connector, 'board'), lit) ?? undefined,
  far: faceView(chart, halfName(connector, 'far'), lit) ?? undefined,
});

function makeAnswer(chart: Chart, kind: Candidate['kind'], id: string): Answer {
  const onNet = (net: string) => chart.circuits.filter((c) => c.nets.includes(net));
  switch (kind) {
    case 'circuit':
      return { circuit: circuitView(chart, id) ?? undefined, circuits: [] };
    case 'line':
      return { line: lineView(chart, id) ?? undefined, circuits: onNet(id) };
    case 'pin': {
      const through = chart.through.get(id);
      if (isInline(id)) {
        const { connector = '', position = 0 } = splitInline(id) ?? {};
        const beyond = through?.behind.flatMap((number) => chart.circuit.get(number) ?? []) ?? [];
        const line = (through && lineView(chart, through.net)) ?? undefined;
        return {
          line: line && { ...line, through: line.through.filter(({ pin }) => pin === id) },
          ...halvesOf(chart, connector, [position]),
          circuits: beyond,
        };
      }
      const tap = chart.pins.get(id);
      const at = splitPin(id);
      const behind = tap?.behind.flatMap((number) => chart.circuit.get(number) ?? []) ?? [];
      return {
        line: (tap && lineView(chart, tap.net, [id])) ?? undefined,
        face: (at && faceView(chart, at.header, [at.position])) ?? undefined,
        circuits: behind.length > 0 ? behind : onNet(tap?.net ?? ''),
      };
    }
    case 'header':
      if (isInline(id)) return { ...halvesOf(chart, id), circuits: [] };
      return { face: faceView(chart, id) ?? undefined, circuits: [] };
    case 'load': {
      const net = chart.loads.find((l) => l.number === id)?.net;
      return { line: (net && lineView(chart, net)) || undefined, circuits: [] };
    }
    case 'lamp': {
      const lamp = chart.lamps.find((l) => l.number === id);
      return { line: (lamp && lineView(chart, `lamp-column.${lamp.column}`)) ?? undefined, circuits: [] };
    }
  }
}
