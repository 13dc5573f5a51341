/** How the cells of the entry tables are shown and read. Each reading that fails says what may be written. */
import { wordIn } from '@/lib/core/chart/entry/read/synonyms';
import type { NetKind } from '@/lib/core/chart/schema';
import { joinColour, parseWire } from '@/lib/core/wire';
import type { CellRead, CellType } from './types';

const good = (value: unknown): CellRead => ({ ok: true, value });
const bad = (message: string, mend: string): CellRead => ({ ok: false, message, mend });
const shown = (value: unknown): string => (value === undefined || value === null ? '' : String(value));

export const text: CellType = { show: shown, read: good };

export const number: CellType = {
  show: shown,
  read: (cell) => {
    const plain = cell.replace(/\s*(mm|v|a|ω|ohms?|awg|µf|m)\.?$/i, '').replace(',', '.');
    return plain !== '' && Number.isFinite(Number(plain))
      ? good(Number(plain))
      : bad(`“${cell}” is no number.`, 'Write a number, such as 3 or 0.5.');
  },
};

/** Positions with spaces or commas between: `4 9`. */
export const numbers: CellType = {
  show: (value) => (Array.isArray(value) ? value.join(' ') : ''),
  read: (cell) => {
    if (/^(none|no|-|–)$/i.test(cell)) return good([]);
    const all = cell.split(/[\s,;/+]+/).filter((n) => n && !/^and$/i.test(n));
    return all.every((n) => /^\d{1,3}$/.test(n))
      ? good(all.map(Number))
      : bad(`“${cell}” is no list of positions.`, 'Write numbers with a space between, such as 4 9; or none.');
  },
};

export const texts: CellType = {
  show: (value) => (Array.isArray(value) ? value.join('; ') : ''),
  read: (cell) => good(cell.split(/\s*[;,]\s*/).filter(Boolean)),
};

export const yesNo: CellType = {
  choices: ['yes', 'no'],
  show: (value) => (value === true ? 'yes' : value === false ? 'no' : ''),
  read: (cell) =>
    /^(y|yes|x|true)$/i.test(cell)
      ? good(true)
      : /^(n|no|false)$/i.test(cell)
        ? good(false)
        : bad(`“${cell}” is neither.`, 'Write yes or no.'),
};

/** One of a few words, by its beginning or as lists write it. */
export const choice = (values: readonly (string | number)[], words: readonly (readonly [RegExp, string])[] = []): CellType => ({
  choices: values.map(String),
  show: shown,
  read: (cell) => {
    const plain = cell.toLowerCase();
    const begins = values.filter((v) => String(v).toLowerCase().startsWith(plain));
    const value =
      values.find((v) => String(v).toLowerCase() === plain) ?? wordIn(words, cell) ?? (begins.length === 1 ? begins[0] : undefined);
    return value === undefined ? bad(`“${cell}” is none of the words for this.`, `Write ${values.join(', ')}.`) : good(value);
  },
});

/** A wire in any notation; kept as base/stripe. */
export const colour: CellType = {
  show: shown,
  read: (cell, { design }) => readColour(cell, design.stripeOrder ?? 'base-stripe'),
};

function readColour(cell: string, order: 'base-stripe' | 'stripe-base'): CellRead {
  if (/^[a-z]+\/[a-z]+$/.test(cell) && parseWire(cell).length === 1) return ours(cell);
  const readings = parseWire(cell, order);
  const [first] = readings;
  if (!first) return bad(`“${cell}” is no wire colour.`, 'Write base and stripe, such as grey/orange, gy-og or 8-3.');
  const all = [...new Set(readings.map((r) => joinColour(r.base, r.stripe)))];
  if (all.length > 1) return bad(`“${cell}” may be ${all.join(' or ')}.`, 'Write the one that it is.');
  if (!first.ordered && first.stripe)
    return bad(`“${cell}” does not say which is the stripe.`, `Write ${first.base}/${first.stripe} or ${first.stripe}/${first.base}.`);
  return good(all[0]);
}
function ours(cell: string): CellRead {
  const [reading] = parseWire(cell);
  return reading
    ? good(joinColour(reading.base, reading.stripe))
    : bad(`“${cell}” is no wire colour.`, 'Write base and stripe, such as grey/orange.');
}

/** Wires of one pin: `grey/orange 24 + white`. */
export const wires: CellType = {
  show: (value) =>
    Array.isArray(value)
      ? value.map((w: { colour?: string; awg?: number }) => [w.colour ?? 'as its line', w.awg].filter(Boolean).join(' ')).join(' + ')
      : '',
  read: (cell, { design }) => {
    const list: { colour?: string; awg?: number }[] = [];
    for (const part of cell.split(/\s*(?:\+|&)\s*/).filter(Boolean)) {
      const [, name = '', awg] = /^(.*?)(?:\s+(\d{2})(?:\s*awg)?)?$/i.exec(part) ?? [];
      const own = name === '' || /^as its line$/i.test(name) ? null : readColour(name, design.stripeOrder ?? 'base-stripe');
      if (own && !own.ok) return own;
      list.push({ ...(own?.ok && { colour: String(own.value) }), ...(awg && { awg: Number(awg) }) });
    }
    return good(list);
  },
};

/** A line of the board design: its name, its number, its wire or one of its pins. */
export const line = (kinds: readonly NetKind[]): CellType => ({
  show: shown,
  offer: ({ design }) => design.nets.flatMap((net) => (kinds.includes(net.kind) ? [net.id] : [])),
  read: (cell, around) => {
    const { nets, headers } = around.design;
    const plain = cell.toLowerCase();
    const own = nets.filter((net) => kinds.includes(net.kind));
    const pin = headers.flatMap((h) => h.pins.flatMap((p) => (`${h.id}-${p.position}`.toLowerCase() === plain ? [p.net] : [])));
    const wire = parseWire(cell, around.design.stripeOrder ?? 'base-stripe').map((r) => joinColour(r.base, r.stripe));
    for (const found of [
      nets.filter((net) => net.id.toLowerCase() === plain),
      own.filter((net) => net.id.split('.')[1]?.toLowerCase() === plain || String(net.number ?? '') === plain),
      own.filter((net) => net.name?.toLowerCase() === plain),
      nets.filter((net) => pin.includes(net.id)),
      own.filter((net) => wire.includes(net.colour)),
    ]) {
      if (found.length === 1) return good(found[0]?.id);
      if (found.length > 1) return bad(`“${cell}” may be ${found.map((net) => net.id).join(' or ')}.`, 'Write the one that it is.');
    }
    return bad(
      `The board design has no line “${cell}”.`,
      `Write ${example(
        own.map((net) => net.id),
        kinds,
      )}, or its wire or pin.`,
    );
  },
});
const example = (ids: string[], kinds: readonly NetKind[]) =>
  ids.length > 0 ? `${ids.slice(0, 3).join(', ')}${ids.length > 3 ? ' …' : ''}` : `${kinds[0]}.1`;
