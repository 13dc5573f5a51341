/**
 * Photos with what is drawn on them. A photo is `photo.<id>`, a mark `mark.<id>`; where a mark stands and what it says have keys of
 * their own, so that one person moves it while another writes its label.
 */
import * as z from 'zod/mini';
import type { Chart } from '@/lib/core/chart/types';
import { headerFact, pinFact, readPlace, wireFact } from '@/lib/notebook/circuits';
import { family, stateSchema, text, words } from '@/lib/notebook/widget-state';
import type { Fact, ShownMark, ShownPhoto, WidgetDefinition, WidgetState } from '../definition';

export type Sort = ShownMark['sort'];
/** A fraction of the photo's width and height, from its top left corner. */
export interface Spot {
  x: number;
  y: number;
}
export interface Mark extends ShownMark {
  id: string;
  pin: string; // the header pin that its label names, `A3J4-7`; empty when it names none
  header: string;
  wires: string[]; // of that pin, base/stripe
}
export interface Photo extends Omit<ShownPhoto, 'marks'> {
  id: string;
  by: string;
  at: string; // ISO time
  marks: Mark[];
  /** The photo that shows the same afterwards; null when it stands alone. */
  after: Photo | null;
}
export interface Model {
  photos: Photo[]; // in the order in which they were taken in
  pins: string[]; // of the page's machine, to choose a label from
}

const side = z.int('write a whole number of pixels').check(z.minimum(1, 'too small'), z.maximum(100_000, 'too large'));
const photo = z.looseObject(
  { picture: z.string().check(z.regex(/^[0-9a-f]{64}$/)), width: side, height: side, by: words, at: words },
  { error: 'a photo is {"picture": hash, "width": pixels, "height": pixels, "by": name, "at": time}' },
);
const fraction = z.number().check(z.minimum(0), z.maximum(1));
const spot = z.object({ x: fraction, y: fraction }, { error: 'a place is {"x": 0 to 1, "y": 0 to 1}' });
const mark = z.looseObject(
  { photo: words, sort: z.enum(['arrow', 'number', 'pin']), n: z.int().check(z.minimum(1), z.maximum(9999)) },
  { error: 'a mark is {"photo": id, "sort": "arrow", "number" or "pin", "n": 1 …}' },
);

interface Kept {
  photo: string;
  sort: Sort;
  n: number;
}

/** Numbers stay as they were given; of two that were given at once, the later one moves up. */
function numbered<T extends Kept & { id: string }>(marks: T[]): (T & { number: number })[] {
  let last = 0;
  return marks
    .toSorted((a, b) => a.n - b.n || (a.id < b.id ? -1 : 1))
    .map((each) => {
      if (each.sort !== 'number') return { ...each, number: 0 };
      last = Math.max(each.n, last + 1);
      return { ...each, number: last };
    });
}

function marksOn(state: WidgetState, photo: string, chart: Chart | null): Mark[] {
  const kept = family<Kept>(state, 'mark').flatMap(([id, each]) => (each.photo === photo ? [{ ...each, id }] : []));
  return numbered(kept).flatMap(({ id, sort, number }) => {
    const to = state[`to.${id}`] as Spot | undefined;
    if (!to) return []; // it was removed by one while another moved it
    const label = text(state, `label.${id}`);
    const place = readPlace(label);
    const wires = [...new Set((chart?.pins.get(place.pin)?.wires ?? []).map((wire) => wire.colour))];
    const from = (state[`from.${id}`] as Spot | undefined) ?? null;
    return [{ id, sort, number, from: sort === 'arrow' ? from : null, to, label, ...place, wires }];
  });
}

function compute(state: WidgetState, chart: Chart | null, removed: readonly string[] = []): Model {
  const photos = family<Pick<Photo, 'picture' | 'width' | 'height' | 'by' | 'at'>>(state, 'photo')
    .map(([id, { picture, width, height, by, at }]): Photo => {
      const own = { id, picture, width, height, by, at, caption: text(state, `caption.${id}`), marks: marksOn(state, id, chart) };
      return { ...own, after: null, ...(removed.includes(picture) && { removed: true }) };
    })
    .sort((a, b) => (a.at === b.at ? (a.id < b.id ? -1 : 1) : a.at < b.at ? -1 : 1));
  const byId = new Map(photos.map((each) => [each.id, each]));
  const paired = photos.map((each) => ({ ...each, after: byId.get(text(state, `after.${each.id}`)) ?? null }));
  return {
    photos: paired.map((each) => (each.after?.id === each.id ? { ...each, after: null } : each)),
    pins: [...(chart?.pins.keys() ?? [])],
  };
}

const markFacts = ({ label, pin, header, wires }: Mark): Fact[] => {
  if (label.trim() === '') return [];
  if (!header) return [{ kind: 'text', value: label.trim(), label: label.trim() }];
  return [...(pin ? [pinFact(pin)] : []), headerFact(header), ...wires.map(wireFact)];
};

/** “3: water mark”, “A3J4-7, grey/orange wire”. */
export const markWords = ({ sort, number, label, wires }: Mark): string => {
  const said = label.trim();
  const wire = wires.length ? `, ${wires.join(' and ')} wire` : '';
  if (sort === 'number') return said ? `${number}: ${said}${wire}` : `${number}`;
  return said ? `${said}${wire}` : sort === 'arrow' ? 'An arrow' : 'A pin without a label';
};

/** What stands for the photo where it can't be seen. */
export const altOf = ({ caption, marks }: Pick<Photo, 'caption'> & { marks: readonly ShownMark[] }, place: number): string =>
  [caption.trim() || `Photo ${place}`, marks.length ? `with ${marks.length} ${marks.length === 1 ? 'mark' : 'marks'}, listed below` : '']
    .filter(Boolean)
    .join(', ');

const plain = (words: string) => words.replace(/[[\]\n\\]+/g, ' ').trim();

function markdown({ photos }: Model): string {
  return photos
    .map((each, k) => {
      const lines = [
        each.removed
          ? [plain(each.caption), 'picture removed'].filter(Boolean).join(': ')
          : `![${plain(each.caption) || `Photo ${k + 1}`}](/files/${each.picture}/1600)`,
        each.after ? `Before; after: photo ${photos.findIndex((p) => p.id === each.after?.id) + 1}` : '',
        each.marks.map((m) => `- ${markWords(m)}`).join('\n'),
      ];
      return lines.filter(Boolean).join('\n\n');
    })
    .join('\n\n');
}

const definition: WidgetDefinition<Model> = {
  kind: 'photo',
  state: stateSchema({}, { photo, caption: words, mark, from: spot, to: spot, label: words, after: words }),
  compute: (state, { chart, removed }) => compute(state, chart, removed),
  facts: ({ photos }) =>
    photos.flatMap((each) => [
      ...(each.caption.trim() ? [{ kind: 'text' as const, value: each.caption.trim(), label: each.caption.trim() }] : []),
      ...each.marks.flatMap(markFacts),
    ]),
  pictures: ({ photos }) => [...new Set(photos.map((each) => each.picture))],
  writeUp: ({ photos }) => (photos.length ? { photos: photos.map(({ id: _id, by: _by, at: _at, after: _after, ...shown }) => shown) } : {}),
  markdown,
};
export default definition;
