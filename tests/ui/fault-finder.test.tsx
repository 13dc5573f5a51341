/** The fault finder drawn: what each state says, what changes with what was seen, what a reader gets. */
import { describe, expect, test } from 'vitest';
import type { WidgetState } from '@/lib/widgets/definition';
import definition from '@/lib/widgets/fault-finder/definition';
import { cautionsOf } from '@/lib/widgets/fault-finder/test-cautions';
import { termsOf } from '@/lib/widgets/fault-finder/tests';
import { View } from '@/lib/widgets/fault-finder/view';
import { hosts } from './elements';
import { modelOf, recorder, saw, says, saysButton, spinner, view } from './finder-fixture';
import { faults, render, tags, unnamedWires } from './markup';

const dead = { 'seen.46': { presses: 3, missed: 3 } };
const found = {
  ...dead,
  'seen.44': { presses: 3, missed: 0 },
  'seen.26': { presses: 3, missed: 0 },
  'test.jumper 46': saw('shows'),
};
const states: [string, WidgetState][] = [
  ['empty', {}],
  ['well', { 'seen.46': { presses: 3, missed: 0 } }],
  ['dead', dead],
  ['misses', { ...spinner, 'ball.46': { presses: 10, missed: 3 } }],
  ['on by itself', { 'rest.46': 'active', 'rest.26': 'inactive' }],
  ['brings others', { 'seen.46': { presses: 3, missed: 0, with: ['45'] } }],
  ['held', { 'hold.a': { held: ['46', '36', '44'], shown: ['46', '36', '44', '26'] } }],
  ['tests done', { ...found, 'done.remade': true }],
  ['a number and a test that the chart has not', { 'seen.99': { presses: 3, missed: 3 }, ...dead, 'test.wiggle A9J9-1 99': saw('held') }],
  ['direct', { 'seen.D2': { presses: 3, missed: 3 } }],
  ['load', { about: 'load', 'load.L1': 'dead', 'load.L2': 'fires' }],
  ['lamp', { about: 'lamp', 'lamp.11': 'dark', 'line.column.1': 'dark' }],
  ['string', { about: 'string', 'string.G1': 'dim', 'drop.A2J1-1': 120 }],
];

describe.each(states)('%s', (_, state) => {
  test('its state passes the schema', () => {
    expect(definition.state.safeParse(state).success).toBe(true);
  });
  test.each([
    ['reading', undefined],
    ['writing', recorder().act],
  ])('%s: nothing the security policy refuses, ids once even with two on a page, every wire named', (_mode, act) => {
    const html = render(
      <>
        {view(state, act, 'one')}
        {view(state, act, 'two')}
      </>,
    );
    expect(faults(html)).toEqual([]);
    expect(unnamedWires(html)).toEqual([]);
  });
  test('reading offers nothing to press or fill in', () => {
    expect(tags(render(view(state))).filter(({ name }) => ['button', 'input', 'select', 'textarea', 'form'].includes(name))).toEqual([]);
  });
  test('every control that writes has a name of its own', () => {
    const nameless = hosts(view(state, recorder().act))
      .filter((h) => h.type === 'button' && h.props.type !== 'submit')
      .filter((h) => !(h.props['aria-label'] || saysButton(h)));
    expect(nameless).toEqual([]);
  });
  test('the export is plain words', () => {
    const text = definition.markdown(modelOf(state));
    expect(text).toContain('**Fault finder.**');
    expect(text).not.toMatch(/undefined|NaN|\[object/);
  });
});

test('a page of no machine says so', () => {
  const html = says(<View id="x" model={modelOf(spinner, null)} state={spinner} />);
  expect(html).toContain('no chart to reason from');
  expect(definition.markdown(modelOf(spinner, null))).toContain('46: missed 5 of 20');
});

test('one dead switch is not enough to tell, and the next test stands ready with its answers', () => {
  const text = says(view(dead, recorder().act));
  expect(text).toContain('Not enough to tell yet');
  expect(text).toMatch(/Next: Press \d\d /);
  expect(text).toContain('Never registers');
  expect(text).toContain('By hard breaks alone');
  expect(text).toContain('blind to shorts');
});

test('three observations lead from the switch to the line they share', () => {
  const suspects = (state: WidgetState) => (modelOf(state).finding?.suspects ?? []).map((s) => s.id);
  const [one, two, three] = [
    dead,
    { ...dead, 'seen.44': { presses: 3, missed: 0 } },
    { ...dead, 'seen.44': { presses: 3, missed: 0 }, 'seen.26': { presses: 3, missed: 3 } },
  ].map(suspects);
  expect(one?.[0]).toBe('contact 46');
  expect(two).not.toEqual(one);
  expect(three?.some((id) => id.startsWith('terminal A3J4-7'))).toBe(true);
  expect(three).not.toContain('contact 46');
});

test('the spinner: the contact at A3P4-7 leads, nothing of column 4 is listed, both lines of evidence are said', () => {
  const model = modelOf(spinner);
  expect(model.finding?.suspects[0]?.id).toBe('terminal A3J4-7');
  expect(model.finding?.suspects.every((s) => !s.id.includes('column.4'))).toBe(true);
  const text = says(view(spinner));
  for (const said of ['46 Spinner column 4, row 6', 'missed 5 of 20', 'answers, 20 of 20', 'Contact A3P4-7', 'Column 4 is fine'])
    expect(text).toContain(said);
});

test('the line of the first suspect is drawn, and in words beside it; the matrix too', () => {
  const html = render(view(spinner));
  const labels = tags(html).flatMap(({ attrs }) => attrs.get('aria-label') ?? []);
  expect(labels.filter((l) => l.startsWith('Row 6, grey/orange, from its input to its switches.'))).toHaveLength(2); // wide and narrow
  expect(labels.some((l) => l.startsWith('Column 4'))).toBe(false);
  expect(labels.filter((l) => l.startsWith('Switch matrix of'))).toHaveLength(2);
  const text = says(view(spinner));
  expect(text).toContain('Row 6 as a list');
  expect(text).toMatch(/Contact A3P4-7 \d+ %/);
});

test('when it may be the switch itself, both its lines are drawn', () => {
  const labels = tags(render(view(dead))).flatMap(({ attrs }) => attrs.get('aria-label') ?? []);
  expect(labels.filter((l) => l.startsWith('Column 4'))).toHaveLength(2);
  expect(labels.filter((l) => l.startsWith('Row 6'))).toHaveLength(2);
});

test('what fits no fault is said before any suspect, with what to do', () => {
  const state = {
    'seen.46': { presses: 20, missed: 0, with: ['11'] },
    'seen.44': { presses: 20, missed: 0, with: ['73'] },
    'seen.26': { presses: 20, missed: 0, with: ['88'] },
  };
  const model = modelOf(state);
  expect(model.finding?.standing).toBe('odd');
  const text = says(view(state));
  expect(text.indexOf('This does not fit')).toBeGreaterThan(0);
  for (const { what, mend } of model.finding?.odd ?? []) {
    expect(text).toContain(what);
    expect(text).toContain(mend);
  }
  expect(definition.facts(model).filter((f) => f.kind === 'fault')).toEqual([]);
});

test('pressing has its caution, and what is done with the mains plug out says that first', () => {
  expect(says(view(dead, recorder().act))).toContain('Power is on while you press.');
  const model = modelOf(dead);
  const [next] = model.finding?.others ?? [];
  if (!model.finding || !next) throw new Error('no test to show');
  const rail = { ...next, test: { ...next.test, hazard: 3 as const, power: 'unplugged' as const } };
  const html = says(<View id="x" model={{ ...model, finding: { ...model.finding, next: rail } }} state={dead} act={recorder().act} />);
  expect(html.indexOf('A reservoir holds charge')).toBeGreaterThan(0);
  expect(html.indexOf('A reservoir holds charge')).toBeLessThan(html.indexOf('Next: '));
  expect(html).toContain('Unplug it, mains plug out first');
  expect(html).toContain('stored charge: measure first');
});

test('nobody is told how to press in a test that presses nothing', () => {
  for (const [id, power, hazard, says] of [
    ['press 47 3', 'on', 1, 'Power is on while you press'],
    ['jumper 46', 'on', 1, 'Power is on while you test'],
    ['line column.1', 'on', 1, 'Power is on while you test'],
    ['ball 46 10', 'on', 0, undefined],
    ['diode 46', 'off', 1, undefined],
    // Measuring at a live rail: not told to measure first that it is dead.
    ['volts L4', 'on', 2, 'The rail that can hurt is live in this test'],
    ['volts L4', 'off', 2, 'This connector, or one beside it, carries a voltage that can hurt'],
  ] as const)
    expect(cautionsOf({ id, power, hazard })[0]?.title).toBe(says);
  const text = says(view({ about: 'lamp', 'lamp.11': 'dark' }, recorder().act));
  expect(text).toContain('Power is on while you test.');
  expect(text).not.toContain('while you press');
});

test('what is set up with the plug out and looked at with power on says both, in that order', () => {
  const test = { id: 'bridge 46', title: '', minutes: 3, power: 'unplugged', hazard: 1, outcomes: [] } as const;
  expect(termsOf({ test, minutes: 4 }, 'on')).toBe('Unplug it, mains plug out first; then power on, fingers off; about 4 minutes');
  expect(cautionsOf(test).map(({ title }) => title)).toEqual(['Mains plug out before the housing comes off', 'Power is on while you test']);
});

test('shares that add up to more than all say why, and stand before what was seen', () => {
  const why = 'Two things can be at fault at once, so these add up to more than 100 %.';
  const text = says(view({ about: 'string', 'string.G1': 'dark', 'string.G2': 'dark', 'string.G3': 'lit' }));
  const all = modelOf(dead).finding;
  expect((all?.suspects ?? []).reduce((sum, { share }) => sum + share, all?.rest.share ?? 0)).toBeLessThan(1.05);
  expect(says(view(dead))).not.toContain(why);
  expect(says(view(dead)).indexOf('Suspects')).toBeLessThan(says(view(dead)).indexOf('What was seen'));
  expect(text).toContain(why);
});

test('the machine is as the latest test left it, by the moment, whatever the zone of the clock', () => {
  const state = {
    ...dead,
    'test.diode 46': saw('good', '2026-11-21T11:30:00+01:00'), // 10:30 UTC, unplugged
    'test.jumper 46': saw('nothing', '2026-11-21T10:45:00Z'), // power on
  };
  expect(modelOf(state).answered.map((a) => a.power)).toEqual(['unplugged', 'on']);
});

describe('when it is found', () => {
  const lug = {
    ...dead,
    'seen.44': { presses: 3, missed: 0 },
    'seen.45': { presses: 3, missed: 0 },
    'seen.26': { presses: 3, missed: 0 },
    'test.continuity A3J4-7 46': saw('open'),
    'test.jumper 46': saw('nothing'),
    'test.jumper with diode 46': saw('nothing'),
  };
  test('the record is told what to write, and only then the fault is a fact', () => {
    const standing = modelOf(lug);
    expect(standing.finding?.standing).toBe('found');
    const [top] = standing.finding?.suspects ?? [];
    expect(definition.facts(standing).find((f) => f.kind === 'fault')?.value).toBe(top?.fault);
    expect(definition.writeUp?.(standing).found).toMatch(/^The fault was narrowed down to .+ by \d+ presses and \d tests?\.$/);
    expect(says(<View id="x" model={standing} state={{}} />)).toContain('For the fix record');
    expect(definition.progress?.(standing)).toEqual([{ label: 'Tests done', done: 7, of: 7 }]); // four switches, three tests, none left
  });

  test('while it is open nothing is claimed', () => {
    const open = modelOf(dead);
    expect(definition.writeUp?.(open)).toEqual({});
    expect(definition.facts(open).filter((f) => f.kind === 'fault')).toEqual([]);
    expect(says(view(dead))).not.toContain('For the fix record');
  });
});

test('what misbehaves is what the page is about, with its wires; what answers is only told', () => {
  const facts = definition.facts(modelOf(spinner));
  const values = (kind: string) => facts.filter((f) => f.kind === kind).map((f) => f.value);
  expect([...new Set(values('circuit'))].sort()).toEqual(['26', '36', '46']);
  expect(values('wire')).toContain('grey/orange');
  expect(values('pin')).toContain('A3J4-7');
  expect(values('text')).toContain('44 Right sling: answers, 20 of 20');
});

test('a state of the wrong shape is refused under its key', () => {
  const refused = (state: WidgetState) => definition.state.safeParse(state).error?.issues.map((i) => `${i.path.join('.')}: ${i.message}`);
  expect(refused({ 'seen.46': { presses: 3, missed: 4 } })).toEqual(['seen.46: it cannot miss more often than it was pressed']);
  expect(refused({ 'rest.46': 'perhaps' })).toEqual(['rest.46: write active or inactive']);
  expect(refused({ about: 'ghost' })?.[0]).toContain('about: write switch');
  expect(refused({ 'test.rest': { saw: 'none' } })?.[0]).toContain('test.rest');
  expect(refused({ 'load.L1': 'tired' })?.[0]).toContain('load.L1: write fires');
});
