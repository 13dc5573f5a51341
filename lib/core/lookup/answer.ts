/** Everything a bench needs of the one thing that a clue meant. */
import { splitPin } from '../chart/names';
import type { Chart } from '../chart/types';
import { perChart } from './per-chart';
import { keyOf } from './things';
import type { Candidate, LookupResult } from './types';
import { circuitView, faceView, lineView } from './view';

export type Answer = Pick<Extract<LookupResult, { outcome: 'one' }>, 'circuit' | 'line' | 'face' | 'circuits'>;

const answers = perChart(() => new Map<string, Answer>());

export function answerOf(chart: Chart, { kind, id }: Pick<Candidate, 'kind' | 'id'>): Answer {
  const kept = answers(chart);
  const key = keyOf(kind, id);
  const known = kept.get(key) ?? makeAnswer(chart, kind, id);
  kept.set(key, known);
  return known;
}

function makeAnswer(chart: Chart, kind: Candidate['kind'], id: string): Answer {
  const onNet = (net: string) => chart.circuits.filter((c) => c.nets.includes(net));
  switch (kind) {
    case 'circuit':
      return { circuit: circuitView(chart, id) ?? undefined, circuits: [] };
    case 'line':
      return { line: lineView(chart, id) ?? undefined, circuits: onNet(id) };
    case 'pin': {
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
