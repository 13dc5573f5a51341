/** Parts for a half by its contacts: sockets go on the pins of a header or of the other half, pins into sockets. */
import type { Catalogue } from '../parts/schema';

export type Contacts = 'pins' | 'sockets';

/** The catalogue with the terminals of that sort only, and the housings that take one of them. */
export function partsFor(catalogue: Catalogue, contacts: Contacts): Catalogue {
  const all = new Map(
    catalogue.parts.flatMap((p) => (p.kind === 'terminal' ? [[p.id, p.gender === 'pin' ? 'pins' : 'sockets'] as const] : [])),
  );
  // A terminal that the catalogue does not list is taken for a socket, as nearly all are.
  const fits = (terminal: string) => (all.get(terminal) ?? 'sockets') === contacts;
  const parts = catalogue.parts.filter((p) => (p.kind === 'terminal' ? fits(p.id) : p.kind !== 'housing' || p.terminals.some(fits)));
  return parts.length === catalogue.parts.length ? catalogue : { ...catalogue, parts };
}
