/** What a plan takes from the drawers: terminals with spares and samples, keying plugs, housing, header. */
import type { Header } from '../chart/schema';
import { housingName } from '../chart/views';
import type { Catalogue, Need, Stock, TerminalPart } from '../parts/schema';
import { chooseLength } from './choose-length';
import { lostPerCut, offcut } from './cut';
import { type JobShare, shareNote } from './job-share';
import { suitsPins } from './pin';
import { ofRows, positionsWords } from './pin-rows';
import { samePitch } from './pitch';
import type { ConnectorPlan, HeaderChoice, PlanRow } from './types';

const samplesEach = 2; // terminals of each kind spent on destructive pull tests
const spares = (fitted: number) => Math.ceil(fitted / 10); // one for every ten begun (common practice, no source)

export function terminalUse(rows: readonly PlanRow[], terminals: readonly TerminalPart[], stock: Stock): ConnectorPlan['terminals'] {
  return terminals.flatMap(({ id, name }) => {
    const fitted = rows.filter((r) => r.terminal?.part === id).length;
    if (fitted === 0) return [];
    const spare = spares(fitted);
    return [{ part: id, name, fitted, spare, samples: samplesEach, total: fitted + spare + samplesEach, onHand: stock[id] ?? 0 }];
  });
}

/** A plug of the pitch, one on hand before one to order, then by id. */
export function keysOf(header: Header, catalogue: Catalogue, stock: Stock): ConnectorPlan['keys'] {
  const [plug] = catalogue.parts
    .flatMap((p) => (p.kind === 'key' && samePitch(p.pitchMm, header.pitchMm) ? [{ id: p.id, onHand: stock[p.id] ?? 0 }] : []))
    .sort((a, b) => Number(b.onHand > 0) - Number(a.onHand > 0) || (a.id < b.id ? -1 : 1));
  const positions = [...new Set(header.keys)].filter((k) => k <= header.positions).sort((a, b) => a - b);
  return { positions, part: plug?.id ?? null, onHand: plug?.onHand ?? 0 };
}

/** Same pitch, plating, rows and pins, exact or cut. */
export function chooseHeader(header: Header, catalogue: Catalogue, stock: Stock): HeaderChoice {
  const alike = catalogue.parts.flatMap((p) =>
    p.kind === 'header' && samePitch(p.pitchMm, header.pitchMm) && p.plating === header.plating && suitsPins(p, header) ? [p] : [],
  );
  const same = ofRows(alike, header);
  const found = chooseLength(same, header.positions, stock);
  if (found) return { part: found.part.id, name: found.part.name, from: found.part.positions, cut: found.cut };
  const name = `Header, ${positionsWords(header)}, ${header.pitchMm} mm, ${header.plating}`;
  return { part: null, name, from: header.positions, cut: null };
}

type Planned = Pick<ConnectorPlan, 'half' | 'header' | 'housing' | 'terminals' | 'keys' | 'newHeader'> & {
  rows: readonly PlanRow[];
  headerSide: 'sound' | 'reflow' | 'replace';
  saveKey: boolean;
};

export function needsOf({ half, header, housing, rows, terminals, keys, newHeader, headerSide, saveKey }: Planned): Need[] {
  const from = `connector plan ${header.id}`;
  const needs: Need[] = [];
  if (housing.how !== 'none') {
    const note = housing.how === 'cut' ? cutNote(housing.positions, housing.offcut) : undefined;
    const { part, name } = housing;
    needs.push(
      housing.how === 'shared'
        ? shared(housing.share, part, name, from, housingName)
        : { part, name, quantity: 1, from, ...(note && { note }) },
    );
  }
  for (const t of terminals)
    needs.push({ part: t.part, name: t.name, quantity: t.total, from, note: `${t.fitted} fitted, ${t.spare} spare, ${t.samples} samples` });
  needs.push(...pigtailNeeds(rows, from));
  if (keys.positions.length > 0 && !saveKey && half?.contacts !== 'pins')
    needs.push({ ...(keys.part && { part: keys.part }), name: `Keying plug, ${header.pitchMm} mm`, quantity: keys.positions.length, from });
  if (headerSide !== 'sound') needs.push({ name: 'Solder with flux', quantity: 1, from, note: `${header.positions} joints` });
  if (newHeader) {
    needs.push({ name: 'Desoldering braid', quantity: 1, from });
    const { part, name, cut, share } = newHeader;
    const note = cut ? cutNote(header.positions, offcut([header.positions], newHeader.from, lostPerCut[cut])) : undefined;
    needs.push(
      share && share.others.length > 0
        ? shared(share, part, name, from, (id) => id)
        : { ...(part && { part }), name, quantity: 1, from, ...(note && { note }) },
    );
  }
  return needs;
}

/** A strip that several connectors come from is needed once, by the plan of the first; the others name it. */
const shared = (share: JobShare, part: string | null, name: string, from: string, nameOf: (id: string) => string): Need => ({
  ...(part !== null && { part }),
  name,
  quantity: share.place.id === share.first ? 1 : 0,
  from,
  note: share.place.id === share.first ? shareNote(share, nameOf) : `counted in the plan for ${nameOf(share.first)}`,
});

/** Wire and splices of the accepted pigtails, alike ones together. The waste rule holds for splices as for terminals. */
function pigtailNeeds(rows: readonly PlanRow[], from: string): Need[] {
  const chosen = rows.flatMap((r) => (r.pigtail?.chosen ? [r.pigtail] : []));
  const wires = counted(
    chosen.map((p) => ({ name: `Stranded wire, ${p.awg} AWG, ${p.colour}, ${p.lengthMm} mm, insulation about ${p.insulationMm} mm` })),
  );
  const splices = counted(chosen.map(({ splice }) => ({ name: splice.name, ...(splice.part !== null && { part: splice.part }) })));
  return [
    ...wires.map(({ thing, count }): Need => ({ ...thing, quantity: count, from, note: 'for a pigtail' })),
    ...splices.map(
      ({ thing, count }): Need => ({ ...thing, quantity: count + spares(count), from, note: `${count} fitted, ${spares(count)} spare` }),
    ),
  ];
}

function counted<T extends { name: string }>(things: readonly T[]): { thing: T; count: number }[] {
  const by = new Map<string, { thing: T; count: number }>();
  for (const thing of things) by.set(thing.name, { thing, count: (by.get(thing.name)?.count ?? 0) + 1 });
  return [...by.values()];
}

const cutNote = (positions: number, left: number) =>
  `cut to ${positions}${left > 0 ? `, ${left} ${left === 1 ? 'position' : 'positions'} kept` : ''}`;
