/** Fault finder: what was seen, the likely faults, and the next thing to touch. */
import type { Chart } from '@/lib/core/chart/types';
import { type Finding, faultName } from '@/lib/core/diagnosis';
import { percent } from '@/lib/core/diagnosis/words';
import { circuitView } from '@/lib/core/lookup';
import { circuitFacts, circuitRow, pinFact } from '@/lib/notebook/circuits';
import type { Fact, Progress, WidgetContext, WidgetDefinition, WidgetState, WriteUpPart } from '../definition';
import { type Answered, answeredIn, findIn, historiesOf, powerNow } from './model/find';
import { type HeldReading, heldOf, heldWords, misbehaves, pressesOf, type Reading, readingsOf } from './model/readings';
import { schema } from './model/state';
import { type About, aboutOf, aboutsIn, dropsOf, type Shown, type Subject, shownOf, subjectOf } from './model/subjects';

export interface Model {
  chart: Chart | null; // null: the page belongs to no machine
  about: About;
  abouts: About[]; // that this chart has
  readings: Reading[];
  held: HeldReading[];
  subject: Subject | null; // null: it is about a switch
  shown: Shown[];
  drops: [pin: string, millivolts: number][];
  answered: Answered[];
  before: { id: string; label: string; on: boolean }[];
  threes: boolean; // three faults at once are reckoned with
  finding: Finding | null; // null without a chart
}

function compute(state: WidgetState, { chart, record }: WidgetContext): Model {
  const about = aboutOf(state);
  const subject = chart && about !== 'switch' ? subjectOf(chart, about) : null;
  const answered = chart ? answeredIn(chart, about, state) : [];
  return {
    chart,
    about,
    abouts: chart ? aboutsIn(chart) : [],
    readings: readingsOf(state, chart),
    held: heldOf(state),
    subject,
    shown: subject && about !== 'switch' ? shownOf(state, about, subject) : [],
    drops: about === 'string' ? dropsOf(state) : [],
    answered,
    threes: state.threes === true,
    before: historiesOf(about).map(({ id, label }) => ({ id, label, on: state[`done.${id}`] === true })),
    finding: chart ? findIn(chart, about, state, record, powerNow(answered)) : null,
  };
}

/** "46 Spinner, missed 5 of 20": everything that was seen, a line each. */
export function seenLines({ about, readings, held, shown, drops }: Model): string[] {
  if (about !== 'switch')
    return [
      ...shown.map(({ id, name, shows }) => `${[id, name].filter(Boolean).join(' ')} ${shows.label}`),
      ...drops.map(([pin, millivolts]) => `${pin}: ${millivolts} mV across its terminal`),
    ];
  return [...readings.map(({ number, name, words }) => `${[number, name].filter(Boolean).join(' ')}: ${words}`), ...held.map(heldWords)];
}

const pinIn = (place: string): string => (/^A\d{1,2}J\d{1,2}-\d{1,2}$/.test(place) ? place : '');

/** Those that misbehave are what the page is about; those that answer only clear it. The suspect counts once it is found. */
function facts(model: Model): Fact[] {
  const { chart, finding, about } = model;
  const wrong = about === 'switch' ? model.readings.filter(misbehaves) : [];
  const circuits = wrong.flatMap(({ number, name, known }) => {
    const view = chart && known ? circuitView(chart, number) : null;
    return view ? circuitFacts(circuitRow(view)) : [{ kind: 'circuit' as const, value: number, label: [number, name].join(' ').trim() }];
  });
  const loads = model.shown
    .filter(({ shows, key }) => !shows.fine && key.startsWith('load.'))
    .map(({ id, name }): Fact => ({ kind: 'circuit', value: id, label: [id, name].join(' ').trim() }));
  const found = finding?.standing === 'found' ? finding.suspects[0] : undefined;
  return [
    ...circuits,
    ...loads,
    ...(found ? [{ kind: 'fault' as const, value: found.fault, label: faultName(found.fault) }] : []),
    ...(found && pinIn(found.place) ? [pinFact(pinIn(found.place))] : []),
    ...seenLines(model).map((line): Fact => ({ kind: 'text', value: line, label: line })),
  ];
}

/** Open while a test is left that would tell more. */
function progress({ finding, answered, readings, shown }: Model): Progress[] {
  if (!finding || finding.standing === 'empty') return [];
  const done = answered.length + readings.filter(({ mark }) => mark !== 'untried').length + shown.length;
  return [{ label: 'Tests done', done, of: done + (finding.next ? 1 : 0) }];
}

const many = (n: number, one: string) => `${n} ${one}${n === 1 ? '' : one.endsWith('s') ? 'es' : 's'}`;

function writeUp({ finding, readings, answered }: Model): WriteUpPart {
  const [top] = finding?.suspects ?? [];
  if (finding?.standing !== 'found' || !top) return {};
  const presses = pressesOf(readings);
  const by = [...(presses > 0 ? [many(presses, 'press')] : []), ...(answered.length > 0 ? [many(answered.length, 'test')] : [])];
  const how = by.length > 0 ? ` by ${by.join(' and ')}` : '';
  return { found: `The fault was narrowed down to ${top.name} (${faultName(top.fault).toLowerCase()})${how}.` };
}

function markdown(model: Model): string {
  const { finding, answered, before } = model;
  const list = (title: string, lines: readonly string[]) => (lines.length > 0 ? ['', title, '', ...lines.map((line) => `- ${line}`)] : []);
  if (!finding) return list('What was seen', seenLines(model)).join('\n').trim();
  const suspects = finding.suspects.map(
    ({ share, name, detail, how }) => `${percent(share)} ${name}, ${[detail, how].filter(Boolean).join(', ')}`,
  );
  const { next } = finding;
  const mend = finding.standing === 'found' || finding.standing === 'ahead' ? finding.suspects[0]?.mend : undefined;
  return [
    `**Fault finder.** ${finding.verdict}`,
    ...list('What was seen:', seenLines(model)),
    ...list('Suspects:', [
      ...suspects,
      ...(finding.rest.places > 0 ? [`${percent(finding.rest.share)} all else, ${many(finding.rest.places, 'place')}`] : []),
    ]),
    ...(mend ? ['', `To mend the first: ${mend}`] : []),
    ...list(
      'Tests:',
      answered.map(({ title, label }) => `${title} ${label}.`),
    ),
    ...list(
      'Before:',
      before.flatMap(({ label, on }) => (on ? [label] : [])),
    ),
    ...(next ? ['', `Next: ${next.test.title}`] : []),
  ].join('\n');
}

const definition: WidgetDefinition<Model> = {
  kind: 'fault-finder',
  state: schema,
  compute,
  facts,
  progress,
  writeUp,
  markdown,
};
export default definition;
