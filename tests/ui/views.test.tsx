/** Every widget view, for reading and for writing: safe markup, named wires, what each state must say. */
import { describe, expect, test, vi } from 'vitest';
import { View as Lookup } from '@/lib/widgets/circuit-lookup/view';
import { View as Plan } from '@/lib/widgets/connector-plan/view';
import type { WidgetActions } from '@/lib/widgets/definition';
import { View as Fix } from '@/lib/widgets/fix-record/view';
import { View as Tally } from '@/lib/widgets/parts-tally/view';
import { UnknownView } from '@/lib/widgets/unknown-view';
import { fixtureChart } from '../core/fixture';
import { lookupModel, planModel, recordModel, severalModel, tallyModel } from './fixture';
import { faults, render, tags, textOf, unnamedWires } from './markup';

const act: WidgetActions = { set: vi.fn(), remove: vi.fn(), tick: vi.fn(), count: vi.fn() };
type Case = [string, (id: string, act?: WidgetActions) => React.ReactNode];
const cases: Case[] = [
  ['lookup, one answer', (id, a) => <Lookup id={id} model={lookupModel('spinner')} state={{}} act={a} />],
  ['lookup, a pin', (id, a) => <Lookup id={id} model={lookupModel('A3J4-7')} state={{}} act={a} />],
  ['lookup, several', (id, a) => <Lookup id={id} model={severalModel} state={{}} act={a} />],
  ['lookup, none', (id, a) => <Lookup id={id} model={lookupModel('zzqx')} state={{}} act={a} />],
  ['lookup, asking', (id, a) => <Lookup id={id} model={lookupModel('')} state={{}} act={a} />],
  ['lookup, no machine', (id, a) => <Lookup id={id} model={{ clue: '', machine: '', result: null }} state={{}} act={a} />],
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

test('a tally says what to order, for how much, and what has no price', () => {
  const text = textOf(render(<Tally id="x" model={tallyModel} state={{}} />));
  expect(text).toContain('£1.80');
  expect(text).toContain('without 1 that has no price');
});
