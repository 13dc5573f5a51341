/** Every widget's view by kind, for pages that are drawn on the server. */
import type { ComponentType } from 'react';
import { View as CircuitLookup } from './circuit-lookup/view';
import { View as ConnectorPlan } from './connector-plan/view';
import type { WidgetViewProps } from './definition';
import { View as FaultFinder } from './fault-finder/view';
import { View as FixRecord } from './fix-record/view';
import { View as PartsTally } from './parts-tally/view';
import { View as Photo } from './photo/view';
import { View as ProofTest } from './proof-test/view';

type AnyView = ComponentType<WidgetViewProps<unknown>>;

// A view is only ever given the model that the definition of the same kind computed.
const views = {
  'circuit-lookup': CircuitLookup,
  'fault-finder': FaultFinder,
  'connector-plan': ConnectorPlan,
  photo: Photo,
  'parts-tally': PartsTally,
  'proof-test': ProofTest,
  'fix-record': FixRecord,
} as Record<string, unknown> as Record<string, AnyView>;

/** The view of a kind; null for one that this version does not know. */
export const viewOf = (kind: string): AnyView | null => (Object.hasOwn(views, kind) ? (views[kind] ?? null) : null);
