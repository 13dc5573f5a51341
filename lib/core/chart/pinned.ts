/**
 * Photos of the playfield and of boards, and what of the chart is pinned on them. A machine has its own; those of its board design are
 * shared by every machine with that design, and hold headers only.
 */
import type { BoardDesign, ChartPhoto, Machine, Pinned } from './schema';
import type { Chart } from './types';

export type PinnedKind = 'switch' | 'lamp' | 'load' | 'header';
/** Something that can be pinned, by its number or designator. */
export interface Pinnable {
  kind: PinnedKind;
  of: string; // 46, L3, A3J4
  name: string;
}
export interface PhotoPin extends Pinnable {
  id: string;
  at: Pinned['at'];
}
export interface PinnedPhoto extends ChartPhoto {
  on: string;
  holder: 'machine' | 'design';
  pins: PhotoPin[]; // in the order of the chart's things
}
export const pinnedKinds: readonly PinnedKind[] = ['switch', 'lamp', 'load', 'header'];

/** What of a machine can be pinned, in the order of the chart: switches, loads, lamps, headers. */
export const pinnables = (chart: Chart): Pinnable[] => [
  ...chart.circuits.map(({ number, name }) => ({ kind: 'switch' as const, of: number, name })),
  ...chart.loads.map(({ number, name }) => ({ kind: 'load' as const, of: number, name })),
  ...chart.lamps.map(({ number, name }) => ({ kind: 'lamp' as const, of: number, name })),
  ...headersOf(chart.design),
];
export const headersOf = (design: BoardDesign): Pinnable[] =>
  design.headers.map(({ id, name }) => ({ kind: 'header' as const, of: id, name: name ?? '' }));

/** The photos of a machine and, after them, those of its board design, each with its pins. */
export function photosOf(chart: Chart): PinnedPhoto[] {
  const { machine, design } = chart;
  const canonical = (pin: Pinned): Pinned => {
    const circuit = pin.switch === undefined ? undefined : chart.circuit.get(pin.switch);
    return circuit ? { ...pin, switch: circuit.number } : pin; // it may be pinned by a further number
  };
  return [...withPins('machine', machine.photos, machine.pinned?.map(canonical), pinnables(chart)), ...photosOfDesign(design)];
}
export const photosOfDesign = (design: BoardDesign): PinnedPhoto[] =>
  withPins('design', design.boardPhotos, design.boardPinned, headersOf(design));

function withPins(
  holder: PinnedPhoto['holder'],
  photos: readonly ChartPhoto[] = [],
  pins: readonly Pinned[] = [],
  things: readonly Pinnable[],
): PinnedPhoto[] {
  const order = new Map(things.map((thing, i) => [keyOf(thing), { thing, i }]));
  const named = pins.flatMap((pin) => {
    const kind = pinnedKinds.find((k) => pin[k] !== undefined);
    const own = kind && { kind, of: pin[kind] ?? '', name: '' };
    return own ? [{ ...(order.get(keyOf(own))?.thing ?? own), id: pin.id, at: pin.at, photo: pin.photo }] : [];
  });
  const placeOf = (pin: Pinnable) => order.get(keyOf(pin))?.i ?? things.length;
  return photos.map((photo) => ({
    ...photo,
    holder,
    pins: named
      .flatMap(({ photo: on, ...pin }) => (on === photo.picture ? [pin] : []))
      .sort((a, b) => placeOf(a) - placeOf(b) || (a.id < b.id ? -1 : 1)),
  }));
}

/** `switch:46`. */
export const keyOf = ({ kind, of }: Pick<Pinnable, 'kind' | 'of'>): string => `${kind}:${of}`;
/** "46 Spinner", "lamp 12 Left lane", "A3J4 Switch rows". */
export const pinWords = ({ kind, of, name }: Pinnable): string => [kind === 'lamp' ? 'lamp' : '', of, name].filter(Boolean).join(' ');
export const photoTitle = ({ caption }: Pick<ChartPhoto, 'caption'>, place: number): string => caption || `Photo ${place}`;

/** Where something is pinned: each photo that shows it, with its pins there. */
export const shownOn = (photos: readonly PinnedPhoto[], kind: PinnedKind, of: string): { photo: PinnedPhoto; pins: PhotoPin[] }[] =>
  photos.flatMap((photo) => {
    const pins = photo.pins.filter((pin) => pin.kind === kind && pin.of === of);
    return pins.length > 0 ? [{ photo, pins }] : [];
  });

type Holder = Machine | BoardDesign;
interface Lists {
  photos: ChartPhoto[];
  pinned: Pinned[];
}
const listsOf = (chart: Holder): Lists =>
  chart.format === 'fettlebook-machine/1'
    ? { photos: chart.photos ?? [], pinned: chart.pinned ?? [] }
    : { photos: chart.boardPhotos ?? [], pinned: chart.boardPinned ?? [] };
const withLists = <T extends Holder>(chart: T, { photos, pinned }: Lists): T =>
  chart.format === 'fettlebook-machine/1' ? { ...chart, photos, pinned } : { ...chart, boardPhotos: photos, boardPinned: pinned };

export const photoOf = (chart: Holder, picture: string): ChartPhoto | null =>
  listsOf(chart).photos.find((photo) => photo.picture === picture) ?? null;
export const pinsOf = (chart: Holder, picture: string): Pinned[] => listsOf(chart).pinned.filter((pin) => pin.photo === picture);

/** Hashes of all pictures that a chart shows: its photos, and those of what was found on the machine. */
export const picturesOfChart = (chart: Holder): string[] => [
  ...listsOf(chart).photos.map((photo) => photo.picture),
  ...(chart.format === 'fettlebook-machine/1' ? chart.asFound.flatMap((found) => found.photo ?? []) : []),
];

/** The chart with one photo more; a photo that it has stays as it is. */
export function withPhoto<T extends Holder>(chart: T, photo: ChartPhoto): T {
  const { photos, pinned } = listsOf(chart);
  return photoOf(chart, photo.picture) ? chart : withLists(chart, { photos: [...photos, photo], pinned });
}

/** The chart without a photo and its pins. */
export function withoutPhoto<T extends Holder>(chart: T, picture: string): T {
  const { photos, pinned } = listsOf(chart);
  return withLists(chart, {
    photos: photos.filter((photo) => photo.picture !== picture),
    pinned: pinned.filter((pin) => pin.photo !== picture),
  });
}

/** The chart with these pins on a photo instead of those it has, and this caption; pins of other photos stay. */
export function withPinsOn<T extends Holder>(chart: T, picture: string, caption: string, pins: readonly Omit<Pinned, 'photo'>[]): T {
  const { photos, pinned } = listsOf(chart);
  const fresh = new Map(pins.map((pin) => [pin.id, { ...pin, photo: picture }]));
  const old = pinned.flatMap((pin) => {
    if (pin.photo !== picture) return [pin];
    const now = fresh.get(pin.id);
    fresh.delete(pin.id);
    return now ? [now] : [];
  });
  const captioned = ({ caption: _, ...photo }: ChartPhoto): ChartPhoto => (caption === '' ? photo : { ...photo, caption });
  return withLists(chart, {
    photos: photos.map((photo) => (photo.picture === picture ? captioned(photo) : photo)),
    pinned: [...old, ...fresh.values()],
  });
}
