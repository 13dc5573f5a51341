/** Circuit lookup: from any clue (number, name, colours, pin) to the circuit, its wires and what to press. */
import { foundColours } from '@/lib/core/chart/found';
import type { Deviation } from '@/lib/core/chart/schema';
import type { Chart } from '@/lib/core/chart/types';
import { lookup } from '@/lib/core/lookup';
import type { LineView, LookupResult } from '@/lib/core/lookup/types';
import { circuitFacts, circuitRow, headerFact, named, pinFact, wireFact } from '@/lib/notebook/circuits';
import { stateSchema, text, words } from '@/lib/notebook/widget-state';
import type { Fact, WidgetDefinition } from '../definition';

export interface Model {
  clue: string;
  machine: string; // title of the page's machine; empty when it has none
  chart: Chart | null;
  result: LookupResult | null; // null: the page belongs to no machine
  removed?: readonly string[]; // pictures that were removed for good
}

const lineFacts = (line: LineView): Fact[] => [
  ...[line.colour, ...foundColours(line.asFound)].map(wireFact),
  ...line.taps.map((tap) => pinFact(tap.pin)),
  ...line.taps.map((tap) => headerFact(tap.header)),
];

/** Only an answer that is sure says what the page is about. */
function facts({ result }: Model): Fact[] {
  if (result?.outcome !== 'one') return [];
  const { candidate, circuit, line, face } = result;
  if (circuit) return circuitFacts(circuitRow(circuit));
  return [
    ...(candidate.kind === 'pin' ? [pinFact(candidate.id)] : []),
    ...(candidate.kind === 'pin' || !line ? [] : lineFacts(line)),
    ...(candidate.kind === 'pin' && line ? [line.colour, ...foundColours(line.asFound)].map(wireFact) : []),
    ...(face ? [headerFact(face.header.id)] : []),
  ];
}

const lineWords = (line: LineView): string =>
  [`${line.title}: ${line.colour}`, line.taps.map((tap) => tap.pin).join(', '), line.does && line.part ? `${line.does} ${line.part}` : '']
    .filter(Boolean)
    .join(', ');

const foundWords = ({ on, here, wire, manual }: Deviation): string =>
  `- As found on ${on}: ${here}${wire ? `, wire ${wire}` : ''} (manual: ${manual})`;

function markdown({ clue, result }: Model): string {
  if (!result || result.outcome === 'empty') return '';
  if (result.outcome === 'none') return `Nothing fits “${clue}”. ${result.advice.join(' ')}`.trim();
  if (result.outcome === 'several') return [`“${clue}” fits several:`, '', ...result.candidates.map((c) => `- ${c.title}`)].join('\n');
  const { candidate, circuit, line } = result;
  if (!circuit) return [candidate.title, '', ...(line ? [`- ${lineWords(line)}`, ...line.asFound.map(foundWords)] : [])].join('\n').trim();
  return [
    `**${named(circuit.circuit)}**${circuit.circuit.location ? `, ${circuit.circuit.location}` : ''}${candidate.guess ? ' (a guess: the wire may have faded)' : ''}`,
    '',
    ...circuit.lines.map((l) => `- ${lineWords(l)}`),
    ...circuit.asFound.map(foundWords),
    ...(circuit.press.length > 0 ? [`- Press to halve it: ${circuit.press.map(named).join(', ')}`] : []),
  ].join('\n');
}

const definition: WidgetDefinition<Model> = {
  kind: 'circuit-lookup',
  state: stateSchema({ clue: words, pick: words }),
  compute(state, { chart, removed }) {
    const clue = text(state, 'clue');
    const result = chart ? lookup(chart, clue, text(state, 'pick') || undefined) : null;
    return { clue, machine: chart?.title ?? '', chart, result, ...(removed && { removed }) };
  },
  facts,
  markdown,
};
export default definition;
