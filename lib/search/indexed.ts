/** A page as the database keeps its index, made ready for the index in memory. Pure. */
import type { Chart } from '@/lib/core/chart/types';
import type { Lexicon } from '@/lib/core/symptom/lexicon';
import type { Told } from '@/lib/core/symptom/speech';
import { nameStems } from '@/lib/core/symptom/tokens';
import type { IndexRow } from '@/lib/store/facts';
import { featuresOf, nameIn, wordsInOrder } from './features';
import type { Indexed } from './fix-index';
import type { Outcome } from './prior';
import type { IndexRecord } from './record';
import { extentOf, togetherOf } from './together';

/** `chart`: of the page's machine, when it has one. */
export function indexedOf(row: IndexRow, chart: Chart | null, lexicon: Lexicon): Indexed {
  const record = row.record as IndexRecord;
  const circuit = row.facts.find((f) => f.kind === 'circuit')?.value;
  const kind = chart && circuit ? kindOf(chart, circuit) : undefined;
  const { page, title, body, facts, machine, design } = row;
  const fix = {
    page,
    title,
    body,
    facts,
    machine,
    design,
    sort: kind === undefined || kind === 'switch' || kind === 'lamp' ? (kind ?? null) : 'load',
    place: record.place,
    together: togetherOf(circuitsOf(row), chart, lexicon),
    placeWires: chart ? wiresAt(chart, record.place) : [],
    namedLines: (name: string) => (chart ? linesOf(chart, name) : { wires: [], pins: [] }),
  };
  const main = record.fixes?.at(-1);
  const on = record.on || row.day;
  const fault = row.facts.find((f) => f.kind === 'fault')?.value;
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

const circuitsOf = ({ facts }: Pick<IndexRow, 'facts'>) =>
  facts.filter((f) => f.kind === 'circuit').map((f) => ({ number: f.value, name: nameIn(f) }));

/** What a page teaches of the club's speech; null for one that records no fault. */
export function toldBy(row: IndexRow, chart: Chart | null, lexicon: Lexicon): Told | null {
  const symptoms = row.facts.filter((f) => f.kind === 'symptom').map((f) => f.label);
  if (symptoms.length === 0) return null;
  const circuits = circuitsOf(row);
  return {
    sentences: [row.title, ...symptoms],
    fault: row.facts.find((f) => f.kind === 'fault')?.value,
    circuits: circuits.map(({ name }) => name),
    extent: extentOf(circuits.length, togetherOf(circuits, chart, lexicon)),
  };
}

interface Lines {
  wires: string[];
  pins: string[];
}
const named = new WeakMap<Chart, Map<string, Lines>>();
/** Wires and pins of what has that name on the chart, which is compared by its stems. */
function linesOf(chart: Chart, name: string): Lines {
  const known = named.get(chart) ?? linesByName(chart);
  named.set(chart, known);
  return known.get(name) ?? { wires: [], pins: [] };
}

function linesByName(chart: Chart): Map<string, Lines> {
  const lines = new Map<string, Lines>();
  const add = (name: string, nets: readonly string[]) => {
    const own = lines.get(nameStems(name)) ?? { wires: [], pins: [] };
    const wires = nets.flatMap((net) => chart.nets.get(net)?.colour ?? []);
    const pins = nets.flatMap((net) => (chart.taps.get(net) ?? []).map(({ pin }) => pin));
    lines.set(nameStems(name), { wires: [...new Set([...own.wires, ...wires])], pins: [...new Set([...own.pins, ...pins])] });
  };
  for (const { name, nets } of chart.circuits) add(name, nets);
  for (const { name, net } of chart.loads) add(name, [net]);
  for (const { name, column, row } of chart.lamps) add(name, [`lamp-column.${column}`, `lamp-row.${row}`]);
  return lines;
}

/** switch, lamp, coil, flasher, motor …; undefined for what the chart does not know. */
function kindOf(chart: Chart, number: string): string | undefined {
  if (chart.circuit.has(number)) return 'switch';
  const load = chart.loads.find((l) => l.number === number);
  if (load) return load.kind;
  return chart.lamps.some((l) => l.number === number) ? 'lamp' : undefined;
}
