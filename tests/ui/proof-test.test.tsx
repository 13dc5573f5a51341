/** The proof test drawn: what each state says, what a press writes, gates. */
import type { ReactNode } from 'react';
import { describe, expect, test } from 'vitest';
import { TallyGates } from '@/lib/ui/drawings';
import type { WidgetActions, WidgetState } from '@/lib/widgets/definition';
import definition, { type Model } from '@/lib/widgets/proof-test/definition';
import { View } from '@/lib/widgets/proof-test/view';
import { fixtureChart } from '../core/fixture';
import { fixtureCatalogue, fixtureStock } from '../core/parts-fixture';
import { fire, type Host, hosts } from './elements';
import { faults, render, tags, textOf, valuesOf } from './markup';

const context = {
  chart: fixtureChart,
  catalogue: fixtureCatalogue,
  stock: fixtureStock,
  record: {},
  needs: () => [],
  proofs: () => [],
  job: () => null,
};
const modelOf = (state: WidgetState, chart: typeof fixtureChart | null = fixtureChart): Model =>
  definition.compute(state, { ...context, chart });
const demo = {
  what: '46',
  condition: 'coils',
  'before.missed': 5,
  'before.presses': 20,
  'run.0.cold.1': 6,
  'run.0.warm.1': 8,
  'run.0.coils.2': 4,
};
const wen = { by: 'Wen Adeyemi', at: '2026-11-21T14:31:00.000Z' };
const states: [string, WidgetState][] = [
  ['empty', {}],
  ['nothing to prove', { 'before.missed': 0, 'before.presses': 20, 'hours.run': 30, 'hours.events': 0 }],
  ['not begun', { 'before.missed': 5, 'before.presses': 20 }],
  ['counting', demo],
  ['missed', { ...demo, 'miss.0.ball.a': wen }],
  ['second run', { ...demo, 'miss.0.ball.a': wen, 'run.1.cold.2': 2 }],
  ['long', { ...demo, 'before.missed': 1, 'run.0.warm.9': 290 }],
];
function recorder() {
  const calls: unknown[][] = [];
  const note =
    (name: string) =>
    (...args: unknown[]) => {
      calls.push([name, ...args]);
    };
  const act: WidgetActions = { set: note('set'), remove: note('remove'), tick: note('tick'), count: note('count'), step: note('step') };
  return { calls, act };
}
const view = (state: WidgetState, act?: WidgetActions, id = 'x') => <View id={id} model={modelOf(state)} state={state} act={act} />;
const says = (state: WidgetState, act?: WidgetActions) => textOf(render(view(state, act))).replaceAll('\u00a0', ' ');
const button = (words: string) => (host: Host) =>
  host.type === 'button' && textOf(render(host.props.children as ReactNode)).startsWith(words);

describe.each(states)('%s', (_, state) => {
  test.each([
    ['reading', undefined],
    ['writing', recorder().act],
  ])('%s: nothing the security policy refuses, ids once even with two on a page', (_mode, act) => {
    const html = render(
      <>
        {view(state, act, 'one')}
        {view(state, act, 'two')}
      </>,
    );
    expect(faults(html)).toEqual([]);
  });
  test('reading offers nothing to press or fill in', () => {
    expect(tags(render(view(state))).filter(({ name }) => ['button', 'input', 'select', 'textarea'].includes(name))).toEqual([]);
  });
});

test('counting: number, goals, conditions, verdict, and the kind of each interval', () => {
  for (const said of [
    'Proof test, 46 Spinner',
    '18 clean presses in a row',
    '6 more for 99 %.',
    '13 reached: 95 %',
    'at 24: 99 %',
    '6 cold',
    '0 by ball',
    '9 to 49 % (two-sided 95 %)',
    'at most 15 % can be left (one-sided 95 %)',
    'made cold, warm and with coils firing only',
    'Allowed for',
  ])
    expect(says(demo).toLowerCase()).toContain(said.toLowerCase());
});

test('the three ways of counting stand in a table, by level', () => {
  expect(says(demo)).toMatch(/\(optimistic\) 11 17 .*\(used here\) 13 24 .*9 %, taken for it \(cautious\) 34 51/);
});

test('an empty test says why a number is needed, and to whom', () => {
  expect(says({}, recorder().act)).toContain('Press it 20 times before anything is mended');
  expect(says({})).toContain('Whoever writes on this page');
});

test('nothing to prove: says the mend, and hours still count', () => {
  const text = says({ 'before.missed': 0, 'before.presses': 20, 'hours.run': 30, 'hours.events': 0 });
  expect(text).toContain('nothing to prove');
  expect(text).toContain('Record misses first');
  expect(text).toContain('fewer than 0.1 an hour');
});

test('a run that was missed stays in sight with who, when and how', () => {
  const text = says({ ...demo, 'miss.0.ball.a': wen, 'run.1.cold.2': 2 });
  for (const said of [
    '2 clean presses in a row, run 2',
    'Run 1, clean: 6 cold; 8 warm, 30 min; 4 coils firing. Then missed: by ball.',
    'Wen 14:31',
  ])
    expect(text).toContain(said);
});

describe('pressing', () => {
  test('clean and missed are written under run and condition', () => {
    const { calls, act } = recorder();
    fire(view(demo, act), button('Clean press'), 'onClick');
    fire(view(demo, act), button('Missed'), 'onClick');
    expect(calls[0]).toEqual(['count', 'run.0.coils', 1]);
    expect(calls[1]?.[0]).toBe('tick');
    expect(calls[1]?.[1]).toMatch(/^miss\.0\.coils\.[a-z2-7]{12}$/);
    expect(calls[1]?.[2]).toBe(true);
  });
  test('nothing is counted before somebody says how it is pressed', () => {
    const { condition: _, ...unsaid } = demo;
    const { calls, act } = recorder();
    const pressable = hosts(view(unsaid, act)).filter((h) => button('Clean press')(h) || button('Missed')(h));
    expect(pressable.map((h) => h.props.disabled)).toEqual([true, true]);
    fire(view(unsaid, act), (h) => h.type === 'input' && h.props.value === 'ball', 'onChange');
    expect(calls).toEqual([['set', 'condition', 'ball']]);
  });
  test('a wrong press and a wrong miss are taken back', () => {
    const { calls, act } = recorder();
    fire(view(demo, act), button('Pressed wrongly'), 'onClick');
    fire(view({ ...demo, 'miss.0.ball.a': wen }, act), button('It was not a press'), 'onClick');
    expect(calls).toEqual([
      ['count', 'run.0.coils', -1],
      ['remove', 'miss.0.ball.a'],
    ]);
  });
  test('after a miss the next press opens the next run', () => {
    const { calls, act } = recorder();
    fire(view({ ...demo, 'miss.0.ball.a': wen }, act), button('Clean press'), 'onClick');
    expect(calls).toEqual([['count', 'run.1.coils', 1]]);
  });
  test('the caution that power is on stands before the buttons', () => {
    const html = render(view(demo, recorder().act));
    expect(html.indexOf('class="caution"')).toBeGreaterThan(0);
    expect(html.indexOf('class="caution"')).toBeLessThan(html.indexOf('class="presses"'));
  });
});

describe('setting up', () => {
  const typed = (value: string) => ({ target: { value } });
  const byId = (id: string) => (host: Host) => host.props.id === id;
  test('switch, counts before and hours are whole and within bounds, or absent', () => {
    const { calls, act } = recorder();
    fire(view({}, act), byId('x-what'), 'onChange', typed('26'));
    fire(view({}, act), byId('x-before-missed'), 'onChange', typed('4.6'));
    fire(view({}, act), byId('x-before-presses'), 'onChange', typed('123456'));
    fire(view({}, act), byId('x-before-presses'), 'onChange', typed(''));
    fire(view({}, act), byId('x-hours-run'), 'onChange', typed('2.5'));
    fire(view({ what: '26' }, act), byId('x-what'), 'onChange', typed(''));
    expect(calls).toEqual([
      ['set', 'what', '26'],
      ['set', 'before.missed', 5],
      ['set', 'before.presses', 9999],
      ['remove', 'before.presses'],
      ['set', 'hours.run', 2.5],
      ['remove', 'what'],
    ]);
  });
  test('is open until the first press', () => {
    const open = (state: WidgetState) =>
      hosts(view(state, recorder().act)).find((h) => h.props.className === 'proof-set-up no-print')?.props.open;
    expect(open({})).toBe(true);
    expect(open({ ...demo })).toBe(false);
  });
  test('without a chart the number is typed', () => {
    const inputs = hosts(<View id="x" model={modelOf({ what: '7' }, null)} state={{}} act={recorder().act} />);
    expect(inputs.find(byId('x-what'))?.props).toMatchObject({ type: 'text', value: '7' });
  });
});

describe('gates', () => {
  const bars = (html: string, kind: string) =>
    tags(html)
      .filter(({ attrs }) => attrs.get('class') === kind)
      .reduce((n, { attrs }) => n + (attrs.get('d')?.match(/M/g)?.length ?? 0), 0);
  test.each([
    [0, 24],
    [18, 24],
    [24, 24],
    [3, 3],
    [0, 1],
  ])('%i of %i: so many bars drawn and to come', (done, total) => {
    const html = render(<TallyGates done={done} total={total} label="x" />);
    expect([bars(html, 'stroke'), bars(html, 'ghost')]).toEqual([done, total - done]);
  });
  test('each goal has its own shape under its bar', () => {
    const html = render(
      <TallyGates
        done={18}
        total={24}
        marks={[
          { at: 13, shape: 'open' },
          { at: 24, shape: 'full' },
        ]}
        label="18 of 24"
      />,
    );
    const gates = html.split('<svg').slice(1);
    expect(gates.map((g) => valuesOf(g, 'class').filter((c) => c.startsWith('gate-mark')))).toEqual([
      [],
      [],
      ['gate-mark'],
      [],
      ['gate-mark full'],
    ]);
    expect(valuesOf(html, 'aria-label')).toEqual(['18 of 24']);
  });
  test('a long run is drawn from where it stands', () => {
    const text = says({ ...demo, 'before.missed': 1, 'run.0.warm.9': 290 });
    expect(text).toContain('Drawn from press 301 on.');
  });
});
