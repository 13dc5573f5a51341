/** A page as the database keeps its index, made ready for the index in memory. Pure. */
import type { Chart } from '@/lib/core/chart/types';
import type { Lexicon } from '@/lib/core/symptom/lexicon';
import { nameStems } from '@/lib/core/symptom/tokens';
import type { IndexRow } from '@/lib/store/facts';
import { featuresOf, wordsInOrder } from './features';
import type { Indexed } from './fix-index';
import type { Outcome } from './prior';
import type { IndexRecord } from './record';

/** `chart`: of the page's machine, when it has one. */
export function indexedOf(row: IndexRow, chart: Chart | null, lexicon: Lexicon): Indexed {
  const record = row.record as IndexRecord;
  const fix = {
    ...row,
    place: record.place,
    placeWires: chart ? wiresAt(chart, record.place) : [],
    namedWires: (name: string) => (chart ? wiresOf(chart, name) : []),
  };
  const main = record.fixes?.at(-1);
  const on = record.on || row.day;
  const fault = row.facts.find((f) => f.kind === 'fault')?.value;
  const circuit = row.facts.find((f) => f.kind === 'circuit')?.value;
  const kind = chart && circuit ? kindOf(chart, circuit) : undefined;
  return {
    page: row.page,
    features: featuresOf(fix, lexicon),
    words: wordsInOrder(fix),
    standing: {
      outcome: (main?.outcome as Outcome | undefined) ?? (row.state === 'mended' ? 'mended' : 'open'),
      proved: main?.proved ?? false,
      recurred: false, // the index finds out
      on,
    },
    labels: {
      state: row.state,
      year: on.slice(0, 4),
      ...(row.machine && { machine: row.machine }),
      ...(row.design && { design: row.design }),
      ...(fault && { cause: fault }),
      ...(record.by && { by: record.by }),
      ...(kind && { circuitKind: kind }),
    },
    faults: (record.fixes ?? []).flatMap(({ cause, circuits }) => circuits.map((c) => `${row.machine} ${cause} ${c}`)),
  };
}

function wiresAt(chart: Chart, place: string): string[] {
  const [, board, header, position] = /^(A\d{1,2})[JP](\d{1,2})-(\d{1,2})$/i.exec(place.trim()) ?? [];
  return (chart.pins.get(`${board?.toUpperCase()}J${header}-${Number(position)}`)?.wires ?? []).map(({ colour }) => colour);
}

const named = new WeakMap<Chart, Map<string, string[]>>();
/** Wires of what has that name on the chart, which is compared by its stems. */
function wiresOf(chart: Chart, name: string): string[] {
  const known = named.get(chart) ?? wiresByName(chart);
  named.set(chart, known);
  return known.get(name) ?? [];
}

function wiresByName(chart: Chart): Map<string, string[]> {
  const wires = new Map<string, string[]>();
  const add = (name: string, nets: readonly string[]) => {
    const key = nameStems(name);
    const colours = nets.flatMap((net) => chart.nets.get(net)?.colour ?? []);
    wires.set(key, [...new Set([...(wires.get(key) ?? []), ...colours])]);
  };
  for (const { name, nets } of chart.circuits) add(name, nets);
  for (const { name, net } of chart.loads) add(name, [net]);
  for (const { name, column, row } of chart.lamps) add(name, [`lamp-column.${column}`, `lamp-row.${row}`]);
  return wires;
}

/** switch, lamp, coil, flasher, motor …; undefined for what the chart does not know. */
function kindOf(chart: Chart, number: string): string | undefined {
  if (chart.circuit.has(number)) return 'switch';
  const load = chart.loads.find((l) => l.number === number);
  if (load) return load.kind;
  return chart.lamps.some((l) => l.number === number) ? 'lamp' : undefined;
}
