/** Every kind of widget, for the server. A widget is registered by a line here, in views.ts, in lazy.ts and in menu.ts. */
import circuitLookup from './circuit-lookup/definition';
import connectorPlan from './connector-plan/definition';
import type { WidgetDefinition } from './definition';
import faultFinder from './fault-finder/definition';
import fixRecord from './fix-record/definition';
import partsTally from './parts-tally/definition';
import photo from './photo/definition';
import proofTest from './proof-test/definition';

export const definitions: WidgetDefinition[] = [
  circuitLookup,
  faultFinder,
  connectorPlan,
  photo,
  partsTally,
  proofTest,
  fixRecord,
] as WidgetDefinition[];

const byKind = new Map(definitions.map((definition) => [definition.kind, definition]));

/** The definition of a kind; null for one that this version does not know. */
export const definitionOf = (kind: string): WidgetDefinition | null => byKind.get(kind) ?? null;
