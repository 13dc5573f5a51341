/** Ways to draw a fault finder in tests: its model from a state, a recorder of what controls write, a form with one typed field. */
import type { ReactNode } from 'react';
import type { WidgetActions, WidgetState } from '@/lib/widgets/definition';
import definition, { type Model } from '@/lib/widgets/fault-finder/definition';
import { View } from '@/lib/widgets/fault-finder/view';
import { fixtureChart } from '../core/fixture';
import { fixtureCatalogue, fixtureStock } from '../core/parts-fixture';
import type { Host } from './elements';
import { render, textOf } from './markup';

const context = {
  chart: fixtureChart,
  catalogue: fixtureCatalogue,
  stock: fixtureStock,
  record: {},
  needs: () => [],
  proofs: () => [],
  job: () => null,
};
export const modelOf = (state: WidgetState, chart: typeof fixtureChart | null = fixtureChart): Model =>
  definition.compute(state, { ...context, chart });
export const view = (state: WidgetState, act?: WidgetActions, id = 'x') => <View id={id} model={modelOf(state)} state={state} act={act} />;
export const says = (node: ReactNode) => textOf(render(node)).replaceAll('\u00a0', ' ');
export const saysButton = (host: Host) => textOf(render(host.props.children as ReactNode));

export function recorder() {
  const calls: unknown[][] = [];
  const note =
    (name: string) =>
    (...args: unknown[]) => {
      calls.push([name, ...args]);
    };
  const act: WidgetActions = { set: note('set'), remove: note('remove'), tick: note('tick'), count: note('count'), step: note('step') };
  return { calls, act };
}

/** A form as a browser would hand it over; `refused` says what its fields complained of. */
export function typed(fields: Record<string, string>) {
  const refused: string[] = [];
  const form = {
    elements: {
      namedItem: (name: string) =>
        name in fields
          ? { value: fields[name], setCustomValidity: (words: string) => words && refused.push(words), reportValidity() {}, focus() {} }
          : null,
    },
    reset() {},
  };
  return { refused, press: { currentTarget: { form } }, submit: { preventDefault() {}, currentTarget: form } };
}

/** The spinner of the demo club: three of one row miss some, two of its column answer. */
export const spinner: WidgetState = {
  'seen.46': { presses: 20, missed: 5 },
  'seen.26': { presses: 20, missed: 4 },
  'seen.36': { presses: 20, missed: 6 },
  'seen.44': { presses: 20, missed: 0 },
  'seen.45': { presses: 20, missed: 0 },
};
export const saw = (outcome: string, at = '2026-11-21T10:10:00.000Z') => ({ saw: outcome, by: 'Wen Halloran', at });
