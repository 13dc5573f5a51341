/** Parts tally: what the page's widgets need and what was typed by hand, against stock. */
import * as z from 'zod/mini';
import { tally } from '@/lib/core/parts';
import type { Need, Tally, TallyLine } from '@/lib/core/parts/schema';
import { count, family, stateSchema, words } from '@/lib/notebook/widget-state';
import type { WidgetDefinition } from '../definition';

/** A line typed by hand, stored whole under `line.<id>`. */
export interface TypedLine {
  id: string;
  name: string;
  quantity: number;
  part?: string; // catalogue id
}
export interface Model {
  tally: Tally;
  lines: TypedLine[];
  choices: { id: string; name: string }[]; // the catalogue, to choose from
}

const line = z.looseObject(
  { name: words, quantity: count, part: z.optional(words) },
  { error: 'a line is {"name": words, "quantity": number}' },
);

const typedNeeds = (lines: TypedLine[]): Need[] =>
  lines.filter((l) => l.quantity > 0).map((l) => ({ ...(l.part && { part: l.part }), name: l.name, quantity: l.quantity, from: 'typed' }));

const lineWords = (l: TallyLine): string => `${l.needed} × ${l.name}${l.part ? ` (${l.part})` : ''}`;

const definition: WidgetDefinition<Model> = {
  kind: 'parts-tally',
  state: stateSchema({}, { line }),
  compute(state, { catalogue, stock, reserved, needs }) {
    const lines = family<Omit<TypedLine, 'id'>>(state, 'line').map(([id, typed]) => ({ ...typed, id }));
    return {
      tally: tally([...needs(), ...typedNeeds(lines)], catalogue, stock, reserved),
      lines,
      choices: catalogue.parts.map(({ id, name }) => ({ id, name })),
    };
  },
  facts: ({ tally: { lines } }) => lines.flatMap((l) => (l.part ? [{ kind: 'part', value: l.part, label: l.name }] : [])),
  needs: ({ lines }) => typedNeeds(lines),
  markdown: ({ tally: { lines } }) => lines.map((l) => `- ${lineWords(l)}${l.short > 0 ? `, ${l.short} short` : ''}`).join('\n'),
};
export default definition;
