/** Every widget view, for reading and for writing: safe markup, named wires, what each state must say. */
import { describe, expect, test, vi } from 'vitest';
import type { Finding } from '@/lib/core/chart/types';
import { lookup } from '@/lib/core/lookup';
import { ChartFindings } from '@/lib/ui/chart-findings';
import { Result } from '@/lib/widgets/circuit-lookup/result';
import { View as Lookup } from '@/lib/widgets/circuit-lookup/view';
import { View as Plan } from '@/lib/widgets/connector-plan/view';
import type { WidgetActions } from '@/lib/widgets/definition';
import { View as Fix } from '@/lib/widgets/fix-record/view';
import { View as Tally } from '@/lib/widgets/parts-tally/view';
import { UnknownView } from '@/lib/widgets/unknown-view';
import { fixtureChart } from '../core/fixture';
import { lookupModel, planModel, recordModel, severalModel, tallyModel } from './fixture';
import { faults, render, tags, textOf, unnamedWires } from './markup';

const act: WidgetActions = { set: vi.fn(), remove: vi.fn(), tick: vi.fn(), count: vi.fn(), step: vi.fn() };
type Case = [string, (id: string, act?: WidgetActions) => React.ReactNode];
const cases: Case[] = [
  ['lookup, one answer', (id, a) => <Lookup id={id} model={lookupModel('spinner')} state={{}} act={a} />],
  ['lookup, a pin', (id, a) => <Lookup id={id} model={lookupModel('A3J4-7')} state={{}} act={a} />],
  ['lookup, several', (id, a) => <Lookup id={id} model={severalModel} state={{}} act={a} />],
  ['lookup, none', (id, a) => <Lookup id={id} model={lookupModel('zzqx')} state={{}} act={a} />],
  ['lookup, guesses', (id, a) => <Lookup id={id} model={lookupModel('white/orange')} state={{}} act={a} />],
  ['lookup, asking', (id, a) => <Lookup id={id} model={lookupModel('')} state={{}} act={a} />],
  ['lookup, no machine', (id, a) => <Lookup id={id} model={{ clue: '', machine: '', chart: null, result: null }} state={{}} act={a} />],
  ['plan', (id, a) => <Plan id={id} model={planModel} state={{}} act={a} />],
  ['plan, none chosen', (id, a) => <Plan id={id} model={{ ...planModel, header: '', result: null }} state={{}} act={a} />],
  [
    'plan, refused',
    (id, a) => (
      <Plan
        id={id}
        model={{ ...planModel, result: { ok: false, message: 'No header A9J9', mend: 'Choose another.' } }}
        state={{}}
        act={a}
      />
    ),
  ],
  ['tally', (id, a) => <Tally id={id} model={tallyModel} state={{}} act={a} />],
  ['record', (id, a) => <Fix id={id} model={recordModel} state={{}} act={a} />],
  ['unknown', (id) => <UnknownView id={id} kind="proof-test" state={{ b: 1, a: 'x' }} />],
];

describe.each(cases)('%s', (_, view) => {
  test.each([
    ['reading', undefined],
    ['writing', act],
  ])('%s: nothing the security policy refuses, ids used once even with two on a page, every wire named', (_mode, actions) => {
    const html = render(
      <>
        {view('one', actions)}
        {view('two', actions)}
      </>,
    );
    expect(html.length).toBeGreaterThan(100);
    expect(faults(html)).toEqual([]);
    expect(unnamedWires(html)).toEqual([]);
  });

  test('reading offers nothing to press or fill in, but to flip a drawing', () => {
    const controls = tags(render(view('one'))).filter(
      ({ name, attrs }) => ['button', 'input', 'select', 'textarea'].includes(name) && !attrs.has('data-side'),
    );
    expect(controls).toEqual([]);
  });
});

test('a lookup answers with number, name, both lines, every tap and what to press', () => {
  const text = textOf(render(<Lookup id="x" model={lookupModel('spinner')} state={{}} />));
  for (const said of ['46', 'Spinner', 'Column 4', 'violet/yellow', 'A3J6-5', 'Row 6', 'grey/orange', 'A3J4-7', 'Press these to halve it'])
    expect(text).toContain(said);
});

test('what was found on this machine stands beside what the manual says', () => {
  const found = fixtureChart.asFound.find((d) => d.place.switch && d.wire);
  if (!found?.place.switch || !found.wire) throw new Error('the fixture has no wire that differs');
  const text = textOf(render(<Lookup id="x" model={lookupModel(`sw ${found.place.switch}`)} state={{}} />));
  for (const said of ['The manual says', found.manual, 'This machine has', found.here, found.wire, found.by]) expect(text).toContain(said);
});

test('several readings each give their reason, and can be chosen', () => {
  const html = render(<Lookup id="x" model={severalModel} state={{}} act={act} />);
  expect(textOf(html)).toContain('grey/orange is row 6');
  expect(tags(html).filter(({ name, attrs }) => name === 'button' && attrs.get('class') === 'pick')).toHaveLength(2);
});

test('a clue that fits nothing offers guesses, each named as one with its reason; only who writes can take one', () => {
  const html = render(<Lookup id="x" model={lookupModel('white/orange')} state={{}} act={act} />);
  expect(textOf(html)).toContain('Nothing fits “white/orange”');
  expect(textOf(html)).toMatch(/Perhaps Row 6 .*a guess; grey\/orange is row 6; white\/orange may be the faded grey\/orange/);
  const picks = (page: string) => tags(page).filter(({ attrs }) => attrs.get('class') === 'pick');
  expect(picks(html).length).toBeGreaterThan(0);
  expect(new Set(picks(html).map(({ name }) => name))).toEqual(new Set(['button']));
  expect(new Set(picks(render(<Lookup id="x" model={lookupModel('white/orange')} state={{}} />)).map(({ name }) => name))).toEqual(
    new Set(['div']),
  );
  const link = render(
    <Result id="x" result={lookupModel('white/orange').result} chart={null} picked={false} link={(pick) => `#${pick}`} />,
  );
  expect(picks(link)[0]?.attrs.get('href')).toBe('#line:switch-row.6');
});

test('a guess that was taken is still called one', () => {
  const clue = 'white/orange';
  const result = lookup(fixtureChart, clue, 'line:switch-row.6');
  expect(textOf(render(<Lookup id="x" model={{ clue, machine: '', chart: fixtureChart, result }} state={{}} />))).toContain('A guess:');
  expect(textOf(render(<Lookup id="x" model={lookupModel('grey/orange')} state={{}} />))).not.toContain('A guess:');
});

test('findings of a chart stand by level, errors open, each with its mend and its place', () => {
  const finding = (level: Finding['level'], n: number): Finding => ({
    level,
    rule: `rule-${n}`,
    path: `nets[${n}]`,
    message: `Message ${n}.`,
    mend: `Mend ${n}.`,
  });
  const html = render(
    <ChartFindings findings={[finding('warning', 1), finding('error', 2), finding('information', 3), finding('warning', 4)]} />,
  );
  const text = textOf(html);
  expect(text).toMatch(
    /1 error .*Message 2\. Mend 2\. nets\[2\].*2 warnings .*Message 1\..*Message 4\..*1 thing worth knowing .*Message 3\./,
  );
  expect(tags(html).flatMap(({ name, attrs }) => (name === 'details' ? [attrs.has('open')] : []))).toEqual([true, false, false]);
  expect(faults(html)).toEqual([]);
  expect(render(<ChartFindings findings={[]} />)).toBe('');
});

test('a plan shows cautions before anything else, and a row for every position', () => {
  const html = render(<Plan id="x" model={planModel} state={{}} act={act} />);
  expect(html.indexOf('class="caution"')).toBeGreaterThan(0);
  expect(html.indexOf('class="caution"')).toBeLessThan(html.indexOf('class="plan"'));
  expect(tags(html).filter(({ attrs }) => attrs.get('class')?.startsWith('planrow'))).toHaveLength(11);
});

test('a problem names the wire and the position and says the mend, and its row cannot be ticked', () => {
  const html = render(<Plan id="x" model={planModel} state={{}} act={act} />);
  expect(textOf(html)).toContain('grey/brown at 9');
  expect(textOf(html)).toContain('Splice a 24 AWG tail');
  const labels = tags(html).flatMap(({ attrs }) => (attrs.get('role') === 'checkbox' ? [attrs.get('aria-label')] : []));
  expect(labels).toContain('Position 7 seated');
  expect(labels).toContain('Position 7 tugged');
  expect(labels).not.toContain('Position 9 seated');
});

test('a tick says who and when', () => {
  const text = textOf(render(<Plan id="x" model={planModel} state={{}} />));
  expect(text).toContain('Ines 10:02');
});

test('a record that is read leaves out what it has not', () => {
  const text = textOf(render(<Fix id="x" model={{ ...recordModel, proof: '', minutes: null }} state={{}} />));
  expect(text).not.toContain('Proof');
  expect(text).not.toContain('Time');
  expect(text).toContain('21 November 2026');
});

test('a record names the proof test of its page, read and written', () => {
  const model = { ...recordModel, proof: '', proofTests: ['40 clean presses in a row.'] };
  expect(textOf(render(<Fix id="x" model={model} state={{}} />))).toContain('Proof See the proof test: 40 clean presses in a row.');
  expect(textOf(render(<Fix id="x" model={model} state={{}} act={act} />))).toContain('See the proof test: 40 clean presses in a row.');
});

test('a tally says what to order, for how much, and what has no price', () => {
  const text = textOf(render(<Tally id="x" model={tallyModel} state={{}} />));
  expect(text).toContain('£1.80');
  expect(text).toContain('without 1 that has no price');
});
