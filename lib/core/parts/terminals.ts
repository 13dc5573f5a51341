/** The terminals of a catalogue. */
import type { Catalogue, TerminalPart } from './schema';

/** Undefined when there are none: then nothing can be said of the gauges that they would take. */
export function terminalsOf({ parts }: Catalogue): TerminalPart[] | undefined {
  const terminals = parts.filter((p): p is TerminalPart => p.kind === 'terminal');
  return terminals.length > 0 ? terminals : undefined;
}
