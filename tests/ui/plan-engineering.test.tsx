/** The engineering of each wire, as a plan shows it and as it is chosen. */
import { expect, test, vi } from 'vitest';
import definition, { type Model } from '@/lib/widgets/connector-plan/definition';
import { View } from '@/lib/widgets/connector-plan/view';
import type { WidgetState } from '@/lib/widgets/definition';
import { fixtureChart } from '../core/fixture';
import { chartWith, fixtureCatalogue, fixtureStock } from '../core/parts-fixture';
import { fire, type Host, hosts } from './elements';
import { plan, planModel } from './fixture';
import { faults, render, tags, textOf } from './markup';

// It keeps a picture in state of its own, and has tests in a browser.
vi.mock('@/lib/ui/sampler/by-photo', () => ({ ByPhoto: () => null }));

const byId = (id: string) => (host: Host) => host.props.id === id;
const acting = () => {
  const calls: unknown[][] = [];
  const note =
    (name: string) =>
    (...args: unknown[]) =>
      calls.push([name, ...args]);
  return { calls, act: { set: note('set'), remove: note('remove'), tick: note('tick'), count: note('count'), step: note('step') } };
};
const compute = (state: WidgetState, chart = fixtureChart): Model =>
  definition.compute(state, {
    chart,
    catalogue: fixtureCatalogue,
    stock: fixtureStock,
    record: {},
    needs: () => [],
    proofs: () => [],
    job: () => null,
  });

test('the load table has position, line, amps, derated rating and drop, and says what is too much', () => {
  const text = textOf(render(<View id="x" model={planModel} state={{}} />));
  for (const said of [
    'Load',
    'Row 1 grey/blue 24 AWG, one of 2, F3, 1 A slow',
    '1.25 A',
    '2 A',
    '0.63 V, 10.0 %, too much',
    'with 3 positions loaded',
  ])
    expect(text).toContain(said);
  expect(text).toMatch(/11 Ground black 22 AWG with black 22 AWG not known 2\.7 A not known/);
});

test('groups, what connects by right, and stored charge with its estimate', () => {
  const text = textOf(render(<View id="x" model={planModel} state={{}} />));
  for (const said of ['1 and 2 together', 'Each by itself 11', '1, 2 and 11 through a switch, closed at rest', '4700 µF at 52 V, 6.35 J'])
    expect(text).toContain(said);
  expect(text).toMatch(/through 4700 Ω about 5 s to 42\.4 V, 52 s to 5 V .*Measure before touching/);
  const none = { ...plan, reservoirs: plan.reservoirs.map((r) => ({ ...r, bleed: null })) };
  expect(textOf(render(<View id="x" model={{ ...planModel, result: { ok: true, plan: none } }} state={{}} />))).toContain(
    'names no bleeder',
  );
});

test('other standards stand beside the pull figure, and wires together are tested alone', () => {
  const text = textOf(render(<View id="x" model={planModel} state={{}} />));
  expect(text).toContain('22.3 N The table 44.5 N: Another table');
  expect(text).toMatch(/each by itself, against the force for 22 AWG, 35\.6 N/);
});

test('a pigtail is accepted and given back under its own flat key', () => {
  const { calls, act } = acting();
  const view = <View id="x" model={planModel} state={{}} act={act} />;
  fire(view, byId('x-pigtail-9'), 'onChange', { target: { checked: true } });
  fire(view, byId('x-pigtail-9'), 'onChange', { target: { checked: false } });
  expect(calls).toEqual([
    ['set', 'pigtail.9', true],
    ['set', 'pigtail.9', false],
  ]);
  expect(faults(render(view))).toEqual([]);
});

test('a wire that grew too short is given one from the list', () => {
  const { calls, act } = acting();
  const view = <View id="x" model={compute({ header: 'A3J4' })} state={{}} act={act} />;
  fire(view, byId('x-short'), 'onChange', { target: { value: '7' } });
  fire(view, byId('x-short'), 'onChange', { target: { value: '' } });
  expect(calls).toEqual([['set', 'pigtail.7', true]]);
  expect(hosts(view).filter(byId('x-pigtail-11'))).toHaveLength(1); // two wires: proposed
  expect(hosts(view).filter(byId('x-pigtail-7'))).toHaveLength(0);
});

test('who reads sees what was chosen and what is proposed, and no control', () => {
  const html = render(<View id="x" model={compute({ header: 'A3J4', 'pigtail.7': true })} state={{}} />);
  expect(textOf(html)).toMatch(/Position 7, grey\/orange: on a pigtail .*Position 11, black, two wires: a pigtail is proposed/);
  expect(tags(html).filter(({ name, attrs }) => name === 'select' || attrs.get('type') === 'checkbox')).toEqual([]);
});

test('the state carries the choice to rows, needs, minutes and the export', () => {
  const chart = chartWith({
    positions: 3,
    pins: [{ position: 2, net: 'ground', wires: [24, 24].map((awg) => ({ awg, insulationMm: 1.4 })) }],
  });
  const of = (state: WidgetState) => {
    const model = compute({ header: 'A9J1', ...state }, chart);
    if (!model.result?.ok) throw new Error('no plan');
    return { model, plan: model.result.plan, words: definition.markdown(model), needs: definition.needs?.(model) ?? [] };
  };
  const [before, after] = [of({ 'pigtail.2': false }), of({ 'pigtail.2': true })];
  expect(before.plan.rows[1]?.terminal).toBeNull();
  expect(after.plan.rows[1]?.terminal?.part).toBe('T-254-S');
  expect(after.needs.length).toBeGreaterThan(before.needs.length);
  expect(after.plan.minutes).toBeGreaterThan(before.plan.minutes);
  expect(after.words).toContain('on a pigtail of 22 AWG');
  expect(before.words).not.toContain('pigtail');
});

test('a choice is yes or no', () => {
  expect(definition.state.safeParse({ 'pigtail.2': true }).success).toBe(true);
  expect(definition.state.safeParse({ 'pigtail.2': 'yes' }).success).toBe(false);
});

test('a lettered header is planned by its letters, with the count beside them', () => {
  const pins = [1, 2, 3].map((position) => ({ position, net: `switch-row.${position}` }));
  const chart = chartWith({ positions: 8, pins, keys: [5], numbering: 'lettered', skipLetters: 'D' });
  const html = render(<View id="x" model={compute({ header: 'A9J1' }, chart)} state={{}} />);
  const text = textOf(html);
  expect(text).toMatch(/A 1 wire grey\/blue .*B 2 wire grey\/red .*C 3 wire grey\/black .*E 4 free/);
  expect(text).toContain('key at F');
  expect(text).toContain('Small figures count the positions as the steps do');
  expect(text).toContain('Each by itself A, B and C');
  expect(
    tags(html)
      .flatMap(({ attrs }) => (attrs.get('role') === 'img' ? [attrs.get('aria-label') ?? ''] : []))
      .join(),
  ).toContain('key at F');
  const plain = textOf(render(<View id="x" model={compute({ header: 'A3J4' })} state={{}} />));
  expect(plain).not.toContain('Small figures');
});

test('what this machine has otherwise stands with the plan: where, both answers, since when, and its photo', () => {
  const html = render(<View id="x" model={planModel} state={{}} />);
  expect(textOf(html)).toContain(
    'Otherwise in this machine 44 Right sling, row 4 at 5 The manual says Row 4 at the switch, grey/tan This machine has The last run to the switch is pink/white',
  );
  expect(textOf(html)).toContain('Burnt run replaced. Wen Halloran, 3 May 2024');
  expect(tags(html).some(({ name, attrs }) => name === 'img' && attrs.get('src') === `/files/${'b'.repeat(64)}/320`)).toBe(true);
  expect(faults(html)).toEqual([]);
  const sound = render(<View id="x" model={{ ...planModel, result: { ok: true, plan: { ...plan, asFound: [] } } }} state={{}} />);
  expect(textOf(sound)).not.toContain('Otherwise in this machine');
});
