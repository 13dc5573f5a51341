/** Every kind of widget. Registering one is one line here (and its view in views.ts). */
import circuitLookup from './circuit-lookup/definition';
import connectorPlan from './connector-plan/definition';
import type { WidgetDefinition } from './definition';
import faultFinder from './fault-finder/definition';
import fixRecord from './fix-record/definition';
import partsTally from './parts-tally/definition';
import proofTest from './proof-test/definition';

/** In the order of the insert menu. */
export const definitions: WidgetDefinition[] = [
  circuitLookup,
  faultFinder,
  connectorPlan,
  partsTally,
  proofTest,
  fixRecord,
] as WidgetDefinition[];

const byKind = new Map(definitions.map((definition) => [definition.kind, definition]));

/** The definition of a kind; null for one that this version does not know. */
export const definitionOf = (kind: string): WidgetDefinition | null => byKind.get(kind) ?? null;
