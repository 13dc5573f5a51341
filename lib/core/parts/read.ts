/** Reads a catalogue at the boundary: what is wrong is said by path, in plain words, with a mend. */
import { type Read, read } from '../chart/read';
import type { Finding } from '../chart/types';
import { type Catalogue, catalogue } from './schema';

/** A catalogue that fits the schema and hangs together; else every finding. */
export function readCatalogue(json: unknown): Read<Catalogue> {
  const shaped = read(catalogue, json);
  if (!shaped.ok) return shaped;
  const findings = findingsOf(shaped.value);
  return findings.length > 0 ? { ok: false, findings } : shaped;
}

function findingsOf({ parts }: Catalogue): Finding[] {
  const terminals = new Set(parts.flatMap((p) => (p.kind === 'terminal' ? [p.id] : [])));
  const seen = new Set<string>();
  return parts.flatMap((part, i): Finding[] => {
    const error = (rule: string, field: string, message: string, mend: string): Finding => ({
      level: 'error',
      rule,
      path: `parts[${i}].${field}`,
      message: `${part.id}: ${message}`,
      mend,
    });
    const found: Finding[] = [];
    if (seen.has(part.id)) found.push(error('part-twice', 'id', 'two parts have this id.', 'Give each its own.'));
    seen.add(part.id);
    if (part.kind === 'housing')
      for (const id of part.terminals.filter((t) => !terminals.has(t)))
        found.push(
          error(
            'unknown-terminal',
            'terminals',
            `it names the terminal ${id}, which is not here.`,
            'Add the terminal, or take its name out.',
          ),
        );
    if (part.kind === 'terminal') {
      if (part.awg[0] > part.awg[1])
        found.push(
          error('gauge-order', 'awg', `${part.awg.join(' to ')} AWG is thinnest first.`, 'Give the thickest first: the smaller number.'),
        );
      if (part.insulationMm[0] > part.insulationMm[1])
        found.push(
          error('insulation-order', 'insulationMm', `${part.insulationMm.join(' to ')} mm is greatest first.`, 'Give the least first.'),
        );
    }
    return found;
  });
}
