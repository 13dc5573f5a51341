/** Fix record: symptom, circuits, cause and place, remedy, proof, outcome. What it says of circuits is looked up, so wires need no typing. */
import * as z from 'zod/mini';
import type { Chart, Tap } from '@/lib/core/chart/types';
import { faultClasses, faultName } from '@/lib/core/diagnosis/classes';
import { circuitView } from '@/lib/core/lookup';
import type { Need } from '@/lib/core/parts/schema';
import { type CircuitRow, circuitFacts, circuitRow, headerFact, named, pinFact, readPlace, wireFact } from '@/lib/notebook/circuits';
import { count, family, stateSchema, text, words, yes } from '@/lib/notebook/widget-state';
import type { Fact, WidgetContext, WidgetDefinition, WriteUpPart } from '../definition';

export const outcomes = [
  { id: 'open', name: 'Still open' },
  { id: 'mended', name: 'Mended' },
  { id: 'watching', name: 'Mended, being watched' },
  { id: 'not-found', name: 'No fault found' },
] as const;
export type Outcome = (typeof outcomes)[number]['id'];

export interface PartRow {
  id: string;
  name: string; // the id itself for a part that the catalogue does not know
  quantity: number;
}
export interface Model {
  symptom: string;
  circuits: CircuitRow[];
  cause: string;
  causeName: string;
  place: string;
  placePin: string; // the header pin that the place names, `A3J4-7`; empty when it names none
  placeHeader: string;
  placeWires: string[];
  remedy: string;
  proof: string;
  proofTests: string[]; // what the proof tests of the page tell
  minutes: number | null;
  outcome: Outcome;
  outcomeName: string;
  on: string;
  by: string;
  watch: string;
  parts: PartRow[];
  causes: { id: string; name: string }[];
  outcomes: { id: string; name: string }[];
  allCircuits: { number: string; name: string }[];
  allParts: { id: string; name: string }[];
}

/** A switch by its number, else a coil, flasher or motor by its own. */
function rowOf(chart: Chart | null, number: string): CircuitRow {
  const bare: CircuitRow = { number, name: '', known: false, wires: [], pins: [], headers: [], press: [] };
  if (!chart) return bare;
  if (chart.circuit.has(number)) {
    const view = circuitView(chart, number);
    return view ? circuitRow(view) : bare;
  }
  const load = chart.loads.find((l) => l.number === number);
  if (!load) return bare;
  const taps: Tap[] = chart.taps.get(load.net) ?? [];
  const colour = chart.nets.get(load.net)?.colour;
  const headers = [...new Set(taps.map((tap) => tap.header))];
  return { ...bare, name: load.name, known: true, wires: colour ? [colour] : [], pins: taps.map((tap) => tap.pin), headers };
}

function compute(state: Readonly<Record<string, unknown>>, { chart, catalogue, proofs }: WidgetContext): Model {
  const place = text(state, 'place');
  const { pin, header } = readPlace(place);
  const outcome = outcomes.find(({ id }) => id === state.outcome) ?? outcomes[0];
  const cause = text(state, 'cause');
  const names = new Map(catalogue.parts.map((part) => [part.id, part.name]));
  return {
    symptom: text(state, 'symptom'),
    circuits: family<boolean>(state, 'circuit').flatMap(([number, on]) => (on ? [rowOf(chart, number)] : [])),
    cause,
    causeName: cause === '' ? '' : faultName(cause),
    place,
    placePin: pin,
    placeHeader: header,
    placeWires: (chart?.pins.get(pin)?.wires ?? []).map((wire) => wire.colour),
    remedy: text(state, 'remedy'),
    proof: text(state, 'proof'),
    proofTests: proofs(),
    minutes: typeof state.minutes === 'number' ? state.minutes : null,
    outcome: outcome.id,
    outcomeName: outcome.name,
    on: text(state, 'on'),
    by: text(state, 'by'),
    watch: text(state, 'watch'),
    parts: family<number>(state, 'part').flatMap(([id, quantity]) => (quantity > 0 ? [{ id, name: names.get(id) ?? id, quantity }] : [])),
    causes: faultClasses.map(({ id, name }) => ({ id, name })),
    outcomes: outcomes.map(({ id, name }) => ({ id, name })),
    allCircuits: [...(chart?.circuits ?? []), ...(chart?.loads ?? [])].map(({ number, name }) => ({ number, name })),
    allParts: catalogue.parts.map(({ id, name }) => ({ id, name })),
  };
}

function facts(model: Model): Fact[] {
  const said = (kind: 'symptom' | 'text', value: string): Fact[] =>
    value.trim() === '' ? [] : [{ kind, value: value.trim(), label: value.trim() }];
  return [
    ...said('symptom', model.symptom),
    ...(model.placePin ? [pinFact(model.placePin)] : []),
    ...model.placeWires.map(wireFact),
    ...(model.placeHeader ? [headerFact(model.placeHeader)] : []),
    ...model.circuits.flatMap(circuitFacts),
    ...(model.cause ? [{ kind: 'fault' as const, value: model.cause, label: model.causeName }] : []),
    ...model.parts.map(({ id, name }): Fact => ({ kind: 'part', value: id, label: name })),
    { kind: 'outcome', value: model.outcome, label: model.outcomeName },
    ...[model.placeHeader ? '' : model.place, model.remedy, model.proof, model.watch].flatMap((value) => said('text', value)),
  ];
}

/** What was typed, then the proof tests of the page, so that nobody types them again. */
export const proofLines = ({ proof, proofTests }: Pick<Model, 'proof' | 'proofTests'>): string[] => [
  ...(proof.trim() === '' ? [] : [proof]),
  ...proofTests.map((told) => `See the proof test: ${told}`),
];

const needs = (model: Model): Need[] => model.parts.map(({ id, name, quantity }) => ({ part: id, name, quantity, from: 'fix record' }));

function foundWords(model: Model): string {
  if (model.outcome === 'not-found') return 'No fault showed itself while the machine was with us.';
  if (!model.causeName && !model.place) return '';
  const wires = model.placeWires.length > 0 ? ` (${[...new Set(model.placeWires)].join(' and ')} wire)` : '';
  const where = model.place ? `${model.causeName ? ' at ' : ''}${model.place}${wires}` : '';
  const serves = model.circuits.length > 0 ? ` It concerns ${model.circuits.map(named).join(', ')}.` : '';
  return `${model.causeName}${where}.${serves}`;
}

function writeUp(model: Model): WriteUpPart {
  return {
    ...(model.symptom && { complaint: model.symptom }),
    ...(foundWords(model) && { found: foundWords(model) }),
    ...(model.remedy && { done: [model.remedy] }),
    ...(model.proof && { proof: model.proof }),
    ...(model.minutes !== null && { minutes: model.minutes }),
    parts: model.parts.map(({ id, name, quantity }) => ({ part: id, name, quantity })),
    ...(model.watch && { watch: model.watch }),
  };
}

function markdown(model: Model): string {
  const rows: [string, string][] = [
    ['Symptom', model.symptom],
    ['Circuits', model.circuits.map(named).join(', ')],
    ['Cause', model.causeName],
    ['Place', model.place],
    ['Remedy', model.remedy],
    ['Proof', proofLines(model).join(' ')],
    ['Minutes', model.minutes === null ? '' : String(model.minutes)],
    ['Parts', model.parts.map(({ name, quantity }) => `${quantity} × ${name}`).join(', ')],
    ['Outcome', model.outcomeName],
    ['Watch', model.watch],
    ['Signed', [model.by, model.on].filter(Boolean).join(', ')],
  ];
  return rows.flatMap(([label, value]) => (value ? [`- ${label}: ${value}`] : [])).join('\n');
}

const outcomeIds = outcomes.map(({ id }) => id);
const definition: WidgetDefinition<Model> = {
  kind: 'fix-record',
  state: stateSchema(
    {
      symptom: words,
      cause: words,
      place: words,
      remedy: words,
      proof: words,
      minutes: count,
      outcome: z.enum(outcomeIds, { error: `write ${outcomeIds.join(', ')}` }),
      on: words,
      by: words,
      watch: words,
    },
    { circuit: yes, part: count },
  ),
  compute,
  facts,
  needs,
  writeUp,
  markdown,
};
export default definition;
