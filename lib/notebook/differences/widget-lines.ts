/** What was done in a widget, in plain words: its own where its kind has some, else its keys and values. */
import type { Model as ConnectorPlan } from '@/lib/widgets/connector-plan/definition';
import type { WidgetState } from '@/lib/widgets/definition';
import type { Model as FaultFinder } from '@/lib/widgets/fault-finder/definition';
import { menu } from '@/lib/widgets/menu';
import { type Telling, tellState } from './telling';
import type { Line } from './types';
import { circuitLookup } from './words/circuit-lookup';
import { connectorPlan } from './words/connector-plan';
import { faultFinder } from './words/fault-finder';
import { fixRecord } from './words/fix-record';
import { partsTally } from './words/parts-tally';
import { photo } from './words/photo';
import { proofTest } from './words/proof-test';

/** `model` is what the definition of the same kind computed, or null. */
const tellings: Readonly<Record<string, (model: unknown) => Telling>> = {
  'circuit-lookup': () => circuitLookup,
  'connector-plan': (model) => connectorPlan(model as ConnectorPlan | null),
  'fault-finder': (model) => faultFinder(model as FaultFinder | null),
  'fix-record': () => fixRecord,
  'parts-tally': () => partsTally,
  photo: () => photo,
  'proof-test': () => proofTest,
};

/** Lines for each change of a widget's state. With its model, names of steps and switches are told too. */
export function widgetLines(kind: string, before: WidgetState, after: WidgetState, model: unknown = null): Line[] {
  const telling = Object.hasOwn(tellings, kind) ? tellings[kind] : undefined;
  return tellState(telling?.(model) ?? {}, before, after);
}

/** “Connector plan A3J4”; the kind itself for one that this version does not know. */
export function widgetTitle(kind: string, state: WidgetState): string {
  const title = menu.find((entry) => entry.kind === kind)?.title ?? kind;
  return kind === 'connector-plan' && typeof state.header === 'string' && state.header !== '' ? `${title} ${state.header}` : title;
}
