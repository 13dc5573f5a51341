/** Sums what a page needs and holds it against stock. */
import type { Catalogue, Need, Part, Reserved, Stock, Tally, TallyLine } from './schema';

const nothing: Reserved = { here: {}, elsewhere: {}, used: {} };

/** One line a part, in the order first needed; needs in plain words are summed by their name. */
export function tally(needs: readonly Need[], catalogue: Catalogue, stock: Stock, reserved: Reserved = nothing): Tally {
  const parts = new Map(catalogue.parts.map((p) => [p.id, p]));
  const groups = new Map<string, Need[]>();
  for (const need of needs) {
    const key = need.part ? `part ${need.part}` : `words ${need.name.trim().replace(/\s+/g, ' ').toLowerCase()}`;
    groups.set(key, [...(groups.get(key) ?? []), need]);
  }
  const lines = [...groups.values()].map((group) => lineOf(group, parts, stock, reserved));
  return {
    lines,
    currency: catalogue.currency,
    orderPence: lines.reduce((sum, l) => sum + (l.costPence ?? 0), 0),
    unpriced: lines.filter((l) => l.toOrder > 0 && l.costPence === null).length,
  };
}

const unique = (list: readonly (string | undefined)[]) => [...new Set(list.filter((x): x is string => Boolean(x)))];

function lineOf(group: Need[], parts: ReadonlyMap<string, Part>, stock: Stock, spoken: Reserved): TallyLine {
  const [first] = group as [Need, ...Need[]];
  const part = first.part === undefined ? undefined : parts.get(first.part);
  const needed = group.reduce((sum, n) => sum + n.quantity, 0);
  const onHand = part ? (stock[part.id] ?? 0) : null;
  const [reserved, elsewhere, used] = [spoken.here, spoken.elsewhere, spoken.used].map((by) => (part ? (by[part.id] ?? 0) : 0)) as [
    number,
    number,
    number,
  ];
  const short = Math.max(0, needed - used - Math.max(0, (onHand ?? 0) - elsewhere));
  const pack = part?.pack ?? 1;
  const packs = Math.ceil(short / pack);
  return {
    ...(first.part === undefined ? {} : { part: first.part }),
    name: part?.name ?? first.name,
    needed,
    from: unique(group.map((n) => n.from)),
    onHand,
    reserved,
    elsewhere,
    holders: (part && spoken.holders?.[part.id]) ?? [],
    used,
    short,
    packs,
    toOrder: packs * pack,
    costPence: part?.packPence === undefined ? null : packs * part.packPence,
    supplier: part?.supplier ?? '',
    place: part?.place ?? '',
    notes: unique([...group.map((n) => n.note), first.part !== undefined && !part ? `${first.part} is not in the catalogue` : undefined]),
  };
}
