/** The connectors of a job together: one plan of what to cut, from what, and what to buy, proved the best there is for each pitch. */

import type { Header } from '../chart/schema';
import type { Catalogue, HousingPart, Part, Stock } from '../parts/schema';
import { type Contacts, partsFor } from './contacts';
import { type CutStrip, type CuttingLimits, type CuttingPlan, planCuts, usualLimits } from './cutting';
import { stripKinds } from './cutting-strips';
import { noHousing } from './housing';
import type { Job, JobBuy, JobConnector, JobGroup, JobPlace, JobRefusal, JobStrip, Offcut } from './job-types';
import { stripWords } from './job-words';
import { samePins, suitsPins } from './pin';
import { ofRows, pinRows, positionsWords } from './pin-rows';
import { samePitch } from './pitch';

type HeaderPart = Extract<Part, { kind: 'header' }>;
type Strip = HousingPart | HeaderPart;

/** Housings for all these. Two may come from one strip, if they take the same sort of contacts; one that no housing serves is refused by its id. */
export function planHousings(
  connectors: readonly JobConnector[],
  catalogue: Catalogue,
  stock: Stock,
  offcuts: readonly Offcut[] = [],
  limits: CuttingLimits = usualLimits,
): Job {
  const housings = (contacts: Contacts) => partsFor(catalogue, contacts).parts.filter((p): p is HousingPart => p.kind === 'housing');
  const known = { sockets: housings('sockets'), pins: housings('pins') };
  const alike = (a: JobConnector, b: JobConnector) =>
    samePitch(a.header.pitchMm, b.header.pitchMm) && pinRows(a.header) === pinRows(b.header) && contactsOf(a) === contactsOf(b);
  const groups = groupsOf(connectors, alike).map((group) => {
    const { header } = group[0]!;
    const ofPitch = known[contactsOf(group[0]!)].filter((p) => samePitch(p.pitchMm, header.pitchMm));
    return { group, parts: ofRows(ofPitch, header), plating: null };
  });
  return planGroups(groups, connectors, stock, offcuts, limits, (refused) => ({
    id: refused.id,
    ...noHousing(refused.id, refused.header, known[contactsOf(refused)]),
  }));
}

const contactsOf = ({ contacts }: JobConnector): Contacts => contacts ?? 'sockets';

/** New board headers for all these, of the same pitch, plating, rows and pins. */
export function planHeaders(
  connectors: readonly JobConnector[],
  catalogue: Catalogue,
  stock: Stock,
  offcuts: readonly Offcut[] = [],
  limits: CuttingLimits = usualLimits,
): Job {
  const strips = catalogue.parts.filter((p): p is HeaderPart => p.kind === 'header');
  const alike = ({ header: a }: JobConnector, { header: b }: JobConnector) =>
    samePitch(a.pitchMm, b.pitchMm) && a.plating === b.plating && pinRows(a) === pinRows(b) && samePins(a, b);
  const groups = groupsOf(connectors, alike).map((group) => {
    const { header } = group[0]!;
    const same = strips.filter((p) => samePitch(p.pitchMm, header.pitchMm) && p.plating === header.plating && suitsPins(p, header));
    return { group, parts: ofRows(same, header), plating: header.plating };
  });
  return planGroups(groups, connectors, stock, offcuts, limits, ({ id, header }) => ({
    id,
    message: `No header for ${id}, ${positionsWords(header)} at ${header.pitchMm} mm, ${header.plating}, is in the catalogue.`,
    mend: `Add a ${header.plating} header of ${header.pitchMm} mm with ${positionsWords(header)}${pinRows(header) === 2 ? '' : ', or a longer strip that can be cut'}. Tin does not go with gold.`,
  }));
}

interface Group {
  group: readonly JobConnector[];
  parts: readonly Strip[];
  plating: Header['plating'] | null;
}

function planGroups(
  groups: readonly Group[],
  connectors: readonly JobConnector[],
  stock: Stock,
  offcuts: readonly Offcut[],
  limits: CuttingLimits,
  refusal: (connector: JobConnector) => JobRefusal,
): Job {
  const twice = connectors.find((c, i) => connectors.findIndex((d) => d.id === c.id) !== i);
  if (twice) throw new RangeError(`Two connectors of the job are called ${twice.id}.`);
  const solved = groups.map(({ group, parts, plating }) => {
    const pieces = group.map(({ id, header }) => ({ id, length: header.positions }));
    const plan = planCuts(pieces, stripKinds(parts, stock, offcuts), limits);
    return { plan, parts, pitchMm: group[0]!.header.pitchMm, plating };
  });
  const strips = solved.flatMap(({ plan, parts }) => plan.strips.map((s) => stripOf(s, parts)));
  const places = placesOf(strips);
  const refused = new Set(solved.flatMap(({ plan }) => plan.unmet.map((p) => p.id)));
  const buy = solved.flatMap(({ plan, parts }) => plan.buy.map((line) => buyOf(line, parts)));
  const known = new Set(groups.flatMap(({ parts }) => parts.map((p) => p.id)));
  return {
    strips,
    connectors: connectors.flatMap(({ id }) => places.get(id) ?? []),
    refused: connectors.filter((c) => refused.has(c.id)).map(refusal),
    buy,
    kept: strips.flatMap(({ part, left, kept }) => (kept === null ? [] : [{ part, positions: left }])),
    unused: offcuts.filter((o) => !known.has(o.part)),
    spendPence: buy.reduce((sum, line) => sum + (line.pence ?? 0), 0),
    groups: solved.map(({ plan, pitchMm, plating }): JobGroup => ({ pitchMm, plating, cost: plan.cost, unproven: plan.unproven })),
    proven: solved.every(({ plan }) => plan.unproven === null),
  };
}

/** Connectors that can share strips, the smallest pitch first. */
function groupsOf(connectors: readonly JobConnector[], alike: (a: JobConnector, b: JobConnector) => boolean): JobConnector[][] {
  const groups: JobConnector[][] = [];
  const sorted = [...connectors].sort(
    (a, b) =>
      a.header.pitchMm - b.header.pitchMm || (a.header.plating < b.header.plating ? -1 : a.header.plating > b.header.plating ? 1 : 0),
  );
  for (const connector of sorted) {
    const group = groups.find(([first]) => first !== undefined && alike(first, connector));
    if (group) group.push(connector);
    else groups.push([connector]);
  }
  return groups;
}

function partOf(id: string, parts: readonly Strip[]): Strip {
  const part = parts.find((p) => p.id === id);
  if (!part) throw new RangeError(`${id} is no part of this group.`);
  return part;
}

function stripOf(strip: CutStrip, parts: readonly Strip[]): JobStrip {
  const { name, cut } = partOf(strip.part, parts);
  const kept = strip.kept ? `offcut of ${strip.part}, ${strip.left} positions` : null;
  return { ...strip, name, cut, kept, words: stripWords(strip) };
}

function buyOf(line: CuttingPlan['buy'][number], parts: readonly Strip[]): JobBuy {
  const { name, supplier, packPence } = partOf(line.part, parts);
  return { ...line, name, supplier: supplier ?? '', pence: packPence === undefined ? null : line.packs * packPence };
}

function placesOf(strips: readonly JobStrip[]): Map<string, JobPlace> {
  return new Map(
    strips.flatMap(({ part, name, pieces, cuts }, strip) =>
      pieces.map(({ id, from, to }): [string, JobPlace] => [id, { id, part, name, strip, from, to, exact: cuts.length === 0 }]),
    ),
  );
}
