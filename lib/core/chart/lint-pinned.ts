/** What is pinned on photos: whether the photo and the thing are there. */
import { error, warning } from './finding';
import { pinnedKinds } from './pinned';
import type { BoardDesign, ChartPhoto, Pinned } from './schema';
import type { Chart, Finding } from './types';

type Known = Partial<Record<(typeof pinnedKinds)[number], { has(of: string): boolean }>>;
const words = { switch: 'switch', lamp: 'lamp', load: 'load', header: 'header' };

export function* lintPinned({ machine, circuit, lamps, loads, headers }: Chart): Generator<Finding> {
  const known = {
    switch: circuit,
    lamp: new Set(lamps.map((l) => l.number)),
    load: new Set(loads.map((l) => l.number)),
    header: headers,
  };
  yield* lint(['photos', 'pinned'], machine.photos, machine.pinned, known);
}

export function* lintBoardPinned({ boardPhotos, boardPinned, headers }: BoardDesign): Generator<Finding> {
  yield* lint(['boardPhotos', 'boardPinned'], boardPhotos, boardPinned, { header: new Set(headers.map((h) => h.id)) });
}

function* lint(
  [photoList, pinList]: [string, string],
  photos: readonly ChartPhoto[] = [],
  pins: readonly Pinned[] = [],
  known: Known,
): Generator<Finding> {
  const pictures = new Set<string>();
  for (const [i, { picture }] of photos.entries()) {
    if (pictures.has(picture))
      yield error('photo-twice', `${photoList}[${i}].picture`, 'This photo stands here a second time.', 'Remove it.');
    pictures.add(picture);
  }
  const ids = new Set<string>();
  for (const [i, pin] of pins.entries()) {
    const path = `${pinList}[${i}]`;
    if (ids.has(pin.id))
      yield error('pinned-twice', `${path}.id`, `The pin ${pin.id} stands here a second time.`, 'Remove one of the two.');
    ids.add(pin.id);
    if (!pictures.has(pin.photo))
      yield error('pinned-on-nothing', `${path}.photo`, `The pin ${pin.id} is on a photo that is not here.`, 'Remove the pin.');
    const kinds = pinnedKinds.filter((kind) => pin[kind] !== undefined);
    const [kind] = kinds;
    if (kinds.length !== 1 || kind === undefined) {
      yield error('pinned-what', path, `The pin ${pin.id} names ${kinds.length} things.`, 'Name a switch, a lamp, a load or a header.');
      continue;
    }
    const of = pin[kind] ?? '';
    // It was there when it was pinned; whoever takes a thing out of a chart need not clear its photos first.
    if (!known[kind]?.has(of))
      yield warning(
        'pinned-unknown',
        `${path}.${kind}`,
        `${of} is no ${words[kind]} of this chart.`,
        'Remove the pin, or correct the chart.',
      );
  }
}
