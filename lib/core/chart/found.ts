/** What this machine has otherwise than its manual. A deviation that was withdrawn stays on record and counts nowhere. */
import type { Deviation, Machine } from './schema';
import type { Chart } from './types';

export const isStanding = (deviation: Deviation): boolean => deviation.withdrawn === undefined;

/** Deviations of one header position: those that name it, and those that name its whole line and nothing narrower. */
export const foundAtPin = ({ asFound }: Pick<Chart, 'asFound'>, pin: string, net: string | undefined): Deviation[] =>
  asFound.filter(({ place }) =>
    place.pin !== undefined ? place.pin === pin : place.switch === undefined && net !== undefined && place.net === net,
  );

/** Deviations of a line: those that name it or one of its pins. */
export const foundOnLine = ({ asFound }: Pick<Chart, 'asFound'>, net: string, pins: readonly string[]): Deviation[] =>
  asFound.filter(({ place }) => place.net === net || (place.pin !== undefined && pins.includes(place.pin)));

/** Colours found at some place, each once. */
export const foundColours = (found: readonly Deviation[]): string[] => [...new Set(found.flatMap(({ wire }) => wire ?? []))];

/** The machine with one deviation more; its id is made from its place and is new on this machine. */
export function withDeviation(machine: Machine, deviation: Omit<Deviation, 'id' | 'withdrawn'>): Machine {
  const { place } = deviation;
  const name = (place.switch !== undefined ? `sw ${place.switch}` : (place.pin ?? place.net ?? 'here'))
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-');
  const taken = new Set(machine.asFound.map(({ id }) => id));
  let id = name;
  for (let turn = 2; taken.has(id); turn++) id = `${name}-${turn}`;
  return { ...machine, asFound: [...machine.asFound, { id, ...deviation }] };
}

/** The machine with another photo at a deviation, or none; null when there is none of that id that still stands. */
export function withFoundPhoto(machine: Machine, id: string, photo: string | null): Machine | null {
  if (!machine.asFound.some((d) => d.id === id && isStanding(d))) return null;
  const changed = ({ photo: _, ...d }: Deviation): Deviation => (photo === null ? d : { ...d, photo });
  return { ...machine, asFound: machine.asFound.map((d) => (d.id === id && isStanding(d) ? changed(d) : d)) };
}

/** The machine with a deviation withdrawn; null when there is none of that id that still stands. */
export function withoutDeviation(machine: Machine, id: string, withdrawn: NonNullable<Deviation['withdrawn']>): Machine | null {
  if (!machine.asFound.some((d) => d.id === id && isStanding(d))) return null;
  return { ...machine, asFound: machine.asFound.map((d) => (d.id === id && isStanding(d) ? { ...d, withdrawn } : d)) };
}
