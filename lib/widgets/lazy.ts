/** Widgets in the browser: the code of a kind is fetched when a page has one, and kept. */
import type { ComponentType } from 'react';
import type { WidgetDefinition, WidgetViewProps } from './definition';

export interface Loaded {
  definition: WidgetDefinition;
  View: ComponentType<WidgetViewProps<unknown>>;
}
/** A kind: here, on its way, failed to come, or none that this version knows. */
export type Arrival = Loaded | 'coming' | 'failed' | null;

const fetchers: Record<string, () => Promise<{ definition: unknown; View: unknown }>> = {
  'circuit-lookup': () => import('./circuit-lookup/entry'),
  'fault-finder': () => import('./fault-finder/entry'),
  'connector-plan': () => import('./connector-plan/entry'),
  photo: () => import('./photo/entry'),
  'parts-tally': () => import('./parts-tally/entry'),
  'proof-test': () => import('./proof-test/entry'),
  'fix-record': () => import('./fix-record/entry'),
};
export const fetchedKinds: readonly string[] = Object.keys(fetchers);

const arrivals = new Map<string, Arrival>();
const listeners = new Set<() => void>();

const arrive = (kind: string, arrival: Arrival) => {
  arrivals.set(kind, arrival);
  for (const listener of listeners) listener();
};

/** What is here of a kind. The first to ask has it fetched. */
export function arrivalOf(kind: string): Arrival {
  const known = arrivals.get(kind);
  if (known !== undefined) return known;
  if (!Object.hasOwn(fetchers, kind)) return null;
  arrivals.set(kind, 'coming'); // silently: who asks is drawing
  send(kind);
  return 'coming';
}

/** Fetches a kind again that failed to come. */
export function fetchAgain(kind: string): void {
  arrive(kind, 'coming');
  send(kind);
}

function send(kind: string): void {
  fetchers[kind]?.().then(
    // A view is only ever given the model that the definition of the same kind computed.
    (whole) => arrive(kind, whole as Loaded),
    () => arrive(kind, 'failed'),
  );
}

export function onArrival(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/** The definition of a kind that is here already. */
export function arrivedDefinition(kind: string): WidgetDefinition | null {
  const arrival = arrivalOf(kind);
  return arrival && typeof arrival === 'object' ? arrival.definition : null;
}
