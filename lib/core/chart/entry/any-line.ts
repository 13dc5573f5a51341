/** A line of any kind, as connector lists name it: `Switch column 4`, `Lamp row 2`, `+36 V coils`, `Ground`, `switch-row.6`. */
import type { BoardDesign, Net, NetKind } from '../schema';
import { type LineIndex, lineOf } from './lines';
import { readFigure } from './quantities';

const kindForms: readonly (readonly [RegExp, NetKind])[] = [
  [/\blamp\s+(?:column|col|strobe)\b/i, 'lamp-column'],
  [/\blamp\s+(?:row|return)\b/i, 'lamp-row'],
  [/\b(?:column|col|strobe|drive)\b/i, 'switch-column'],
  [/\b(?:row|return)\b/i, 'switch-row'],
  [/\b(?:direct|input)\b/i, 'direct'],
  [/\b(?:load|coil|solenoid|flasher|driver)\s*(?:no\.?\s*)?\d+\b/i, 'load'],
  [/\b(?:ground|gnd|earth|0 ?v)\b/i, 'ground'],
  [/\b(?:illumination|gi|general lighting)\b/i, 'illumination'],
  [/\b(?:supply|power|\+?\d+ ?v)\b/i, 'supply'],
];

/** `given`: a line id that is new to the design may be made. */
export function anyLine(text: string, design: BoardDesign, lines: LineIndex, colour?: string): { id: string; kind: NetKind } | null {
  const plain = text.replace(/\s+/g, ' ').trim();
  const exact = lines.byId.get(plain.toLowerCase());
  if (exact) return { id: exact.id, kind: exact.kind };
  const named = design.nets.filter((net) => plain !== '' && net.name?.toLowerCase() === plain.toLowerCase());
  if (named[0] && named.length === 1) return { id: named[0].id, kind: named[0].kind };
  const asId = /^(switch-column|switch-row|direct|lamp-column|lamp-row|load|supply|illumination|ground|other)(?:\.([A-Za-z0-9-]+))?$/.exec(
    plain,
  );
  if (asId?.[1]) return { id: plain, kind: asId[1] as NetKind };
  const kind = kindForms.find(([form]) => form.test(plain))?.[1];
  if (kind) {
    const number = /(\d{1,2})(?!\s*v)\b/i.exec(plain)?.[1];
    const line = lineOf({ pins: [], rest: plain, ...(number !== undefined && { number: Number(number) }) }, [kind], design, lines, colour);
    if (line) return { id: line.id, kind };
    const only = design.nets.filter((net) => net.kind === kind);
    if (only[0] && (only.length === 1 || kind === 'ground')) {
      const byColour = only.find((net) => net.colour === colour);
      const best = byColour ?? only.find((net) => net.id === kind) ?? (only.length === 1 ? only[0] : undefined);
      if (best) return { id: best.id, kind };
    }
    if (kind === 'ground') return { id: 'ground', kind };
  }
  const byColour = plain === '' ? design.nets.filter((net) => colour !== undefined && net.colour === colour) : [];
  return byColour[0] && byColour.length === 1 ? { id: byColour[0].id, kind: byColour[0].kind } : null;
}

const wordsOf = (text: string) => text.toLowerCase().match(/[a-z]{3,}/g) ?? [];

/** The one supply that a cell names by a word of its name, or by its volts: `coils`, `52 V`. */
export function supplyNamed(text: string, design: BoardDesign): Net | undefined {
  const supplies = design.nets.filter((net) => net.kind === 'supply');
  const asked = wordsOf(text).flatMap((word) => [word, word.replace(/s$/, '')]);
  const byWord = supplies.filter((net) => wordsOf(`${net.name ?? ''} ${net.id}`).some((word) => word !== 'supply' && asked.includes(word)));
  const byVolts = supplies.filter((net) => net.volts !== undefined && /\dv|\d\s*v/i.test(text) && net.volts === readFigure(text));
  const [word] = byWord.length === 1 ? byWord : [];
  const [volts] = byVolts.length === 1 ? byVolts : [];
  return supplies.find((net) => net.id === text.toLowerCase()) ?? word ?? volts;
}
