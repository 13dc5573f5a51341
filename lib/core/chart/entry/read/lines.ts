/** Cells that name a line of the design: by number, name, wire or pin, or several of these in one cell. */
import { pinOf } from '../../names';
import { type BoardDesign, type Net, type NetKind, netKinds } from '../../schema';
import { type PinRead, readPin } from './pins';
import { readFigure } from './quantities';
import { type At, ask, type Reading } from './reading';

/** What a line cell says, taken apart. */
export interface LineParts {
  axis?: 'column' | 'row';
  number?: number;
  pins: PinRead[];
  part?: string; // U14
  rest: string; // a wire, a name or nothing
}

export interface LineIndex {
  byId: ReadonlyMap<string, Net>;
  byKind: ReadonlyMap<NetKind, readonly Net[]>; // in the order of the design
  byPin: ReadonlyMap<string, string>; // A3J4-7 → net id
}

export const indexLines = (design: BoardDesign): LineIndex => ({
  byId: new Map(design.nets.map((net) => [net.id.toLowerCase(), net])),
  byKind: new Map(netKinds.map((kind) => [kind, design.nets.filter((net) => net.kind === kind)])),
  byPin: new Map(design.headers.flatMap((h) => h.pins.map((p) => [pinOf(h.id, p.position), p.net] as const))),
});

const axisForm =
  /^(?:(?:switch|sw|lamp)\s+)?(column|col|strobe|drive|c|row|return|r|line|load|input)\.?\s*(?:no\.?\s*|#\s*)?(\d{1,2})(?![\d/-])\b[\s:,;/-]*/i;
const digitPair = /^\d ?[-/] ?\d$/;

/** Takes a line cell apart: `Column 4 VIO-YEL A3J6-5 (U14)`. */
export function splitLine(reading: Reading, text: string, kinds: readonly NetKind[], at: At, lines: LineIndex): LineParts {
  const { design } = reading.chart;
  let rest = text.replace(/\s+/g, ' ').trim();
  const pins: PinRead[] = [];
  for (let pin = readPin(rest, design); pin; pin = readPin(rest, design)) {
    rest = pin.rest.replace(/\s+/g, ' ').trim();
    const settled = 'many' in pin.pin ? settleBoard(reading, pin.pin, kinds, at, lines) : pin.pin;
    if (settled) pins.push(settled);
  }
  const parts: LineParts = { pins, rest };
  const part = /(?:^|[\s(,])([UQK]\d{1,3})(?=$|[\s),])/i.exec(rest);
  if (part?.[1]) {
    parts.part = part[1].toUpperCase();
    rest = rest.replace(part[0], ' ').trim();
  }
  const named = axisForm.exec(rest);
  const bare = digitPair.test(rest) ? null : /^(\d{1,2})(?:$|[\s:,;/-]+)/.exec(rest);
  if (named?.[2]) {
    const word = (named[1] ?? '').toLowerCase();
    if (/^(c|col|column|strobe|drive)$/.test(word)) parts.axis = 'column';
    else if (/^(r|row|return)$/.test(word)) parts.axis = 'row';
    parts.number = Number(named[2]);
    rest = rest.slice(named[0].length);
  } else if (bare?.[1]) {
    parts.number = Number(bare[1]);
    rest = rest.slice(bare[0].length);
  }
  parts.rest = rest.replace(/^[\s,;:()/-]+|[\s,;:()/-]+$/g, '');
  return parts;
}

/** A pin without its board: the one header of that number that carries such a line there, else by question. */
export function settleBoard(
  reading: Reading,
  { many, position }: { many: string[]; position: number },
  kinds: readonly NetKind[],
  at: At,
  lines: LineIndex,
): PinRead | null {
  const fitting = many.filter((header) => {
    const net = lines.byPin.get(pinOf(header, position));
    const kind = net === undefined ? undefined : lines.byId.get(net.toLowerCase())?.kind;
    return kind !== undefined && kinds.includes(kind);
  });
  const [only] = fitting;
  if (only && fitting.length === 1) return { header: only, position };
  const tail = (many[0] ?? '').replace(/^A\d+/, '');
  const answer = ask(reading, {
    id: `board.${tail}`,
    text: `On which board is ${tail}?`,
    choices: many.map((header) => ({ value: header, label: header })),
    why: 'The table does not say its board, and several have such a header.',
    at,
  });
  return answer ? { header: answer, position } : null;
}

/** The line that the parts name: by number first, then pin, wire, name. `id` of a line that the design lacks is made of kind and number. */
export function lineOf(
  parts: LineParts,
  kinds: readonly NetKind[],
  lines: LineIndex,
  colour?: string,
): { id: string; number?: number } | null {
  const among = kinds.flatMap((kind) => lines.byKind.get(kind) ?? []);
  const of = ({ id, number }: Net) => (number === undefined ? { id } : { id, number });
  if (parts.number !== undefined) {
    const numbered = among.filter((net) => net.number === parts.number);
    if (numbered[0] && numbered.length === 1) return of(numbered[0]);
    if (kinds.length === 1 && numbered.length === 0) return { id: `${kinds[0]}.${parts.number}`, number: parts.number };
  }
  for (const pin of parts.pins) {
    const net = lines.byId.get((lines.byPin.get(pinOf(pin.header, pin.position)) ?? '').toLowerCase());
    if (net && kinds.includes(net.kind)) return of(net);
  }
  const byId = lines.byId.get(parts.rest.toLowerCase());
  if (byId && kinds.includes(byId.kind)) return of(byId);
  const byColour = colour === undefined ? [] : among.filter((net) => net.colour === colour);
  if (byColour[0] && byColour.length === 1) return of(byColour[0]);
  const rest = parts.rest.toLowerCase();
  const byName = rest === '' ? [] : among.filter((net) => net.name?.toLowerCase() === rest);
  return byName[0] && byName.length === 1 ? of(byName[0]) : null;
}

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

/** The line that a cell names, of any kind; one that is new to the design when it is written as an id: `load.17`. */
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
    const line = lineOf({ pins: [], rest: plain, ...(number !== undefined && { number: Number(number) }) }, [kind], lines, colour);
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
