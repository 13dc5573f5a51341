/** What pressing and typing in a view changes in shared state: flat keys, as every other part of the house reads them. */
import { expect, test, vi } from 'vitest';
import { View as Lookup } from '@/lib/widgets/circuit-lookup/view';
import { View as Plan } from '@/lib/widgets/connector-plan/view';
import { View as Fix } from '@/lib/widgets/fix-record/view';
import { View as Tally } from '@/lib/widgets/parts-tally/view';
import { call, fire, type Host, hosts } from './elements';
import { lookupModel, planModel, recordModel, severalModel, tallyModel } from './fixture';

// It keeps a picture in state of its own, and has tests in a browser.
vi.mock('@/lib/ui/sampler/by-photo', () => ({ ByPhoto: () => null }));

function recorder() {
  const calls: unknown[][] = [];
  const act = {
    set: (...args: unknown[]) => calls.push(['set', ...args]),
    remove: (...args: unknown[]) => calls.push(['remove', ...args]),
    tick: (...args: unknown[]) => calls.push(['tick', ...args]),
    count: (...args: unknown[]) => calls.push(['count', ...args]),
    step: (...args: unknown[]) => calls.push(['step', ...args]),
  };
  return { calls, act };
}
const byId = (id: string) => (host: Host) => host.props.id === id;
const byLabel = (label: string) => (host: Host) => host.props['aria-label'] === label && host.type === 'button';
const typed = (value: string) => ({ target: { value } });

test('typing a clue keeps it and drops what was chosen for the last one', () => {
  const { calls, act } = recorder();
  fire(<Lookup id="x" model={lookupModel('spin')} state={{ pick: 'circuit:46' }} act={act} />, byId('x-clue'), 'onChange', typed('spinn'));
  expect(calls).toEqual([
    ['set', 'clue', 'spinn'],
    ['remove', 'pick'],
  ]);
});

test('choosing among several writes kind and id', () => {
  const { calls, act } = recorder();
  const view = <Lookup id="x" model={severalModel} state={{}} act={act} />;
  const [first] = hosts(view).filter((h) => h.props.className === 'pick' && h.type === 'button');
  call(first, 'onClick');
  expect(calls).toEqual([['set', 'pick', 'line:switch-row.6']]);
});

test('only an answer that was chosen can be unchosen', () => {
  const { calls, act } = recorder();
  const again = (state: Record<string, unknown>) =>
    hosts(<Lookup id="x" model={lookupModel('46')} state={state} act={act} />).filter((h) => h.props.className === 'btn text');
  expect(again({})).toHaveLength(0);
  call(again({ pick: 'circuit:46' })[0], 'onClick');
  expect(calls).toEqual([['remove', 'pick']]);
});

test('ticks of a plan write who and when under their own keys, and are taken back', () => {
  const { calls, act } = recorder();
  const view = <Plan id="x" model={planModel} state={{}} act={act} />;
  fire(view, byLabel('Position 7 seated'), 'onClick');
  fire(view, byLabel('Position 7 tugged'), 'onClick');
  fire(view, byLabel('Wires moved, one at a time'), 'onClick');
  fire(view, byLabel('Stored charge measured'), 'onClick');
  expect(calls).toEqual([
    ['tick', 'seat.7', true],
    ['tick', 'tug.7', true],
    ['tick', 'tick.wires', true],
    ['tick', 'tick.charge', false],
  ]);
});

test('header, its side and the saved key are chosen', () => {
  const { calls, act } = recorder();
  const view = <Plan id="x" model={planModel} state={{}} act={act} />;
  fire(view, byId('x-header'), 'onChange', typed('A3J6'));
  fire(view, byId('x-side'), 'onChange', typed('replace'));
  fire(view, byId('x-save-key'), 'onChange', { target: { checked: true } });
  expect(calls).toEqual([
    ['set', 'header', 'A3J6'],
    ['set', 'headerSide', 'replace'],
    ['set', 'saveKey', true],
  ]);
});

test('a typed line of parts can be removed', () => {
  const { calls, act } = recorder();
  fire(<Tally id="x" model={tallyModel} state={{}} act={act} />, byLabel('Remove Desoldering braid'), 'onClick');
  expect(calls).toEqual([['remove', 'line.braid']]);
});

test.each([
  ['symptom', 'misses'],
  ['remedy', 'crimped'],
  ['proof', '24 clean'],
  ['watch', 'S2'],
  ['place', 'A3J4-7'],
  ['cause', 'splice'],
  ['by', 'Wen'],
  ['on', '2026-11-22'],
])('fix record: %s', (key, value) => {
  const { calls, act } = recorder();
  fire(<Fix id="x" model={recordModel} state={{}} act={act} />, byId(`x-${key}`), 'onChange', typed(value));
  expect(calls).toEqual([['set', key, value]]);
});

test('minutes are a whole number, or absent', () => {
  const { calls, act } = recorder();
  const view = <Fix id="x" model={recordModel} state={{}} act={act} />;
  fire(view, byId('x-minutes'), 'onChange', typed('95.4'));
  fire(view, byId('x-minutes'), 'onChange', typed('-3'));
  fire(view, byId('x-minutes'), 'onChange', typed(''));
  expect(calls).toEqual([
    ['set', 'minutes', 95],
    ['set', 'minutes', 0],
    ['remove', 'minutes'],
  ]);
});

test('outcome is one of the four; circuits and parts are taken off by key', () => {
  const { calls, act } = recorder();
  const view = <Fix id="x" model={recordModel} state={{}} act={act} />;
  fire(view, (h) => h.props.type === 'radio' && h.props.value === 'watching', 'onChange');
  fire(view, byLabel('Remove 46 Spinner'), 'onClick');
  fire(view, byLabel('Remove Housing, 16 positions'), 'onClick');
  expect(calls).toEqual([
    ['set', 'outcome', 'watching'],
    ['remove', 'circuit.46'],
    ['remove', 'part.H-254-16'],
  ]);
});
