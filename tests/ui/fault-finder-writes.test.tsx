/** What each control of the fault finder writes: the keys are shared by everybody on the page. */
import type { ReactNode } from 'react';
import { describe, expect, test } from 'vitest';
import type { WidgetState } from '@/lib/widgets/definition';
import { whichShown, whichSwitch, whichSwitches, whichThing } from '@/lib/widgets/fault-finder/which';
import { writeAnswer, writeCount, writeFound } from '@/lib/widgets/fault-finder/writes';
import { fixtureChart } from '../core/fixture';
import { call, fire, type Host, hosts } from './elements';
import { modelOf, recorder, saw, saysButton, spinner, typed, view } from './finder-fixture';

const button = (words: string) => (host: Host) => host.type === 'button' && saysButton(host).startsWith(words);
const labelled = (label: string) => (host: Host) => host.props['aria-label'] === label;
const first = (state: WidgetState, act: ReturnType<typeof recorder>['act'], fits: (host: Host) => boolean) =>
  hosts(view(state, act)).find(fits);

/** Fires a form, which `fire` has no handler for. */
function submit(state: WidgetState, act: ReturnType<typeof recorder>['act'], fields: Record<string, string>, named: string) {
  const form = hosts(view(state, act)).find(
    (h) => h.type === 'form' && hosts(h.props.children as ReactNode).some((c) => c.props.name === named),
  );
  const { submit: event, refused } = typed(fields);
  if (!form) throw new Error(`no form with ${named}`);
  (form.props.onSubmit as (e: unknown) => void)(event);
  return refused;
}

describe('adding a switch: its number, then one tap', () => {
  test.each([
    ['Registers', 'set', 'seen.46', { presses: 3, missed: 0 }],
    ['Never registers', 'set', 'seen.46', { presses: 3, missed: 3 }],
    ['Misses some', 'set', 'seen.46', { presses: 3, missed: 1 }],
    ['On by itself', 'set', 'rest.46', 'active'],
  ])('%s', (words, ...written) => {
    const { calls, act } = recorder();
    call(first({}, act, button(words)), 'onClick', typed({ switch: '46 Spinner' }).press);
    expect(calls).toEqual([written]);
  });

  test('a name will do; what means nothing or two switches is refused, and nothing is written', () => {
    const { calls, act } = recorder();
    call(first({}, act, button('Never')), 'onClick', typed({ switch: 'spinner' }).press);
    expect(calls).toEqual([['set', 'seen.46', { presses: 3, missed: 3 }]]);
    for (const words of ['', '99', 'grey/orange']) {
      const form = typed({ switch: words });
      call(first({}, act, button('Never')), 'onClick', form.press);
      expect(form.refused).toHaveLength(1);
    }
    expect(calls).toHaveLength(1);
  });

  test('from a keyboard the field is ready for the next one; under a thumb it is left alone', () => {
    for (const [detail, times] of [
      [0, 1],
      [1, 0],
    ]) {
      let focused = 0;
      const field = { value: '46', setCustomValidity() {}, focus: () => focused++ };
      const form = { elements: { namedItem: () => field }, reset() {} };
      call(first({}, recorder().act, button('Never')), 'onClick', { currentTarget: { form }, detail });
      expect(focused).toBe(times);
    }
  });

  test('one that was counted keeps its presses', () => {
    const { calls, act } = recorder();
    call(first(spinner, act, button('Registers 3 of 3')), 'onClick', typed({ switch: '46' }).press);
    expect(calls).toEqual([['set', 'seen.46', { presses: 20, missed: 0 }]]);
  });
});

describe('changing what was seen', () => {
  const one = { 'seen.46': { presses: 20, missed: 5, with: ['45'] } };
  test.each([
    ['One more missed', { presses: 20, missed: 6, with: ['45'] }],
    ['One less missed', { presses: 20, missed: 4, with: ['45'] }],
    ['One press more', { presses: 21, missed: 5, with: ['45'] }],
    ['One press less', { presses: 19, missed: 5, with: ['45'] }],
  ])('%s', (label, value) => {
    const { calls, act } = recorder();
    fire(view(one, act), labelled(label), 'onClick');
    expect(calls).toEqual([['set', 'seen.46', value]]);
  });

  test('typed counts are kept within what was pressed', () => {
    const { calls, act } = recorder();
    fire(view(one, act), (h) => h.type === 'input' && labelled('Missed')(h), 'onChange', { target: { value: '99' } });
    fire(view(one, act), (h) => h.type === 'input' && labelled('Presses')(h), 'onChange', { target: { value: '4' } });
    expect(calls.map((c) => c[2])).toEqual([
      { presses: 20, missed: 20, with: ['45'] },
      { presses: 4, missed: 4, with: ['45'] },
    ]);
  });

  test('on by itself is taken back by the same button, and by any press', () => {
    const { calls, act } = recorder();
    const state = { 'rest.46': 'active' };
    const group = first(state, act, labelled('What 46 does'));
    const own = (words: string) => hosts(group?.props.children as ReactNode).find(button(words));
    call(own('On by itself'), 'onClick');
    call(own('Registers'), 'onClick');
    expect(calls).toEqual([
      ['remove', 'rest.46'],
      ['set', 'seen.46', { presses: 3, missed: 0 }],
      ['remove', 'rest.46'],
    ]);
  });

  test('by ball, at rest, out of the list, not with another', () => {
    const { calls, act } = recorder();
    fire(view(one, act), button('Also rolled a ball'), 'onClick');
    fire(view(one, act), button('Looked at rest: quiet'), 'onClick');
    fire(view({ ...one, 'ball.46': { presses: 10, missed: 0 }, 'rest.46': 'inactive' }, act), button('Take 46 out'), 'onClick');
    fire(view(one, act), labelled('46 does not bring 45'), 'onClick');
    expect(calls).toEqual([
      ['set', 'ball.46', { presses: 10, missed: 0 }],
      ['set', 'rest.46', 'inactive'],
      ['remove', 'seen.46'],
      ['remove', 'ball.46'],
      ['remove', 'rest.46'],
      ['set', 'seen.46', { presses: 20, missed: 5 }],
    ]);
  });

  test('several held at once', () => {
    const { calls, act } = recorder();
    expect(submit({}, act, { held: '46', shown: '' }, 'held')).toEqual(['Write two numbers or more.']);
    expect(submit({}, act, { held: '46, 99', shown: '' }, 'held')).toEqual(['This chart has no switch 99.']);
    expect(calls).toEqual([]);
    submit({}, act, { held: '46, 36 44', shown: '46 36 44 26' }, 'held');
    expect(calls).toEqual([['set', expect.stringMatching(/^hold\..+/), { held: ['46', '36', '44'], shown: ['46', '36', '44', '26'] }]]);
    fire(view({ 'hold.a': { held: ['46', '36'], shown: [] } }, act), button('take out'), 'onClick');
    expect(calls.at(-1)).toEqual(['remove', 'hold.a']);
  });
});

describe('answering a test', () => {
  const readings = modelOf(spinner).readings;
  const answer = (id: string, outcome: string) => {
    const { calls, act } = recorder();
    writeAnswer(act, { id }, outcome, readings);
    return calls;
  };

  test('presses are added to those that were counted', () => {
    expect(answer('press 44 10', 'all')).toEqual([['set', 'seen.44', { presses: 30, missed: 0 }]]);
    expect(answer('press 46 10', 'none')).toEqual([['set', 'seen.46', { presses: 30, missed: 15 }]]);
    expect(answer('press 56 3', 'some')).toEqual([['set', 'seen.56', { presses: 3, missed: 1 }]]);
    expect(answer('ball 46 10', 'all')).toEqual([['set', 'ball.46', { presses: 10, missed: 0 }]]);
  });

  test('any other is written under its id, signed', () => {
    expect(answer('wiggle A3J4-7 46', 'dropped')).toEqual([['tick', 'test.wiggle A3J4-7 46', true, { saw: 'dropped' }]]);
  });

  test('the buttons of the next test and of the others do it', () => {
    const { calls, act } = recorder();
    const { next, others } = modelOf(spinner).finding ?? {};
    const number = /^press (\S+) 3$/.exec(next?.test.id ?? '')?.[1];
    expect(number).toBeDefined();
    call(first(spinner, act, button('Registers each time')), 'onClick');
    expect(calls).toEqual([['set', `seen.${number}`, { presses: 3, missed: 0 }]]);
    const wiggle = others?.find((a) => a.test.id.startsWith('wiggle '));
    expect(wiggle).toBeDefined();
    call(first(spinner, act, button('Dropped out')), 'onClick');
    expect(calls[1]).toEqual(['tick', `test.${wiggle?.test.id}`, true, { saw: 'dropped' }]);
  });

  test('a result is taken back', () => {
    const { calls, act } = recorder();
    fire(view({ ...spinner, 'test.joint A3J4-7': saw('sound') }, act), button('take back'), 'onClick');
    expect(calls).toEqual([['remove', 'test.joint A3J4-7']]);
  });
});

describe('about something else', () => {
  test('chosen before anything was seen, and taken back to a switch', () => {
    const { calls, act } = recorder();
    fire(view({}, act), (h) => h.props.type === 'radio' && h.props.value === 'load', 'onChange');
    fire(view({ about: 'load' }, act), (h) => h.props.type === 'radio' && h.props.value === 'switch', 'onChange');
    expect(calls).toEqual([
      ['set', 'about', 'load'],
      ['remove', 'about'],
    ]);
  });

  test('a load and what it does: one tap', () => {
    const { calls, act } = recorder();
    const [load] = fixtureChart.loads;
    call(first({ about: 'load' }, act, button('Does nothing')), 'onClick', typed({ thing: `${load?.number} ${load?.name}` }).press);
    call(
      hosts(view({ about: 'load', [`load.${load?.number}`]: 'dead' }, act))
        .filter(button('Is weak'))
        .at(-1),
      'onClick',
    );
    fire(view({ about: 'load', [`load.${load?.number}`]: 'dead' }, act), button(`Take ${load?.number} out`), 'onClick');
    expect(calls).toEqual([
      ['set', `load.${load?.number}`, 'dead'],
      ['set', `load.${load?.number}`, 'weak'],
      ['remove', `load.${load?.number}`],
    ]);
  });

  test('what happened before', () => {
    const { calls, act } = recorder();
    fire(view(spinner, act), (h) => h.props.id === 'x-done-remade', 'onChange', { target: { checked: true } });
    fire(view(spinner, act), (h) => h.props.id === 'x-done-remade', 'onChange', { target: { checked: false } });
    expect(calls).toEqual([
      ['set', 'done.remade', true],
      ['remove', 'done.remade'],
    ]);
  });
});

test('which one is meant', () => {
  expect(whichSwitch(fixtureChart, ' 46 ')).toEqual({ ok: true, is: '46' });
  expect(whichSwitches(fixtureChart, '46,44  46')).toEqual({ ok: true, is: ['46', '44'] });
  // Nobody holds a switch that is not there, but its number can show: column 3 and row 4 cross without one.
  expect(whichSwitches(fixtureChart, '46 34')).toEqual({ ok: false, message: 'This chart has no switch 34.' });
  expect(whichShown(fixtureChart, '46 34')).toEqual({ ok: true, is: ['46', '34'] });
  expect(whichShown(fixtureChart, '46 99')).toEqual({ ok: false, message: 'This chart has no switch 99.' });
  const subject = modelOf({ about: 'lamp' }).subject;
  if (!subject) throw new Error('the fixture has no lamps');
  expect(whichThing(subject, 'Column 1')).toMatchObject({ ok: true, is: { key: 'line.column.1' } });
  expect(whichThing(subject, 'nothing such').ok).toBe(false);
  // Misspelt, or only its last word: as the circuit lookup would read it; two of that name are told apart by hand.
  const loads = {
    noun: 'Load',
    choices: [],
    things: ['Launch', 'Kicker left', 'Kicker right'].map((name, k) => ({ key: `load.L${k}`, id: `L${k}`, name })),
  };
  expect(whichThing(loads, 'lanch')).toMatchObject({ ok: true, is: { name: 'Launch' } });
  expect(whichThing(loads, 'rihgt kiker')).toMatchObject({ ok: true, is: { name: 'Kicker right' } });
  expect(whichThing(loads, 'kiker')).toMatchObject({ ok: false, message: expect.stringContaining('fits L1 Kicker left, L2 Kicker right') });
  expect(whichThing(loads, '?').ok).toBe(false);
});

test('a count of none pressed is taken up as three; more missed than pressed is never written', () => {
  const { calls, act } = recorder();
  writeFound(act, '46', 'never', { hand: { presses: 0, missed: 0 }, others: [], rest: null });
  writeFound(act, '46', 'some', { hand: { presses: 1, missed: 1 }, others: [], rest: null });
  writeCount(act, 'seen.46', { presses: -3, missed: 2 });
  expect(calls.map((c) => c[2])).toEqual([
    { presses: 3, missed: 3 },
    { presses: 3, missed: 1 },
    { presses: 0, missed: 0 },
  ]);
});
