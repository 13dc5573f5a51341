/** Which pictures the things of an archive show: what goes out with them, and what they hold when they come in. */
import { evaluatePage } from '@/lib/notebook/evaluate';
import type { PageContent } from '@/lib/notebook/types';
import { photosOf } from '@/lib/notebook/writeup/copy';
import type { PageFile, WriteUpFile } from './format';

const nothing = { chart: null, catalogue: { format: 'fettlebook-parts/1' as const, currency: 'GBP', parts: [] }, stock: {}, record: {} };

/** Hashes of the pictures that a page shows, now and at its points that have a name. */
export const picturesOfPage = ({ content, points }: Pick<PageFile, 'content' | 'points'>): string[] => [
  ...new Set([content, ...points.map((point) => point.content)].flatMap((each) => picturesOf(each as PageContent))),
];
/** Of one state of a page. */
export const picturesOf = (content: PageContent): string[] =>
  evaluatePage(content, nothing).widgets.flatMap((w) => (w.error ? [] : (w.definition?.pictures?.(w.model) ?? [])));

/** Of the copies of a write-up: their photos, and the logos of the letterheads they had. */
export const picturesOfWriteUp = ({ copies }: Pick<WriteUpFile, 'copies'>): { photos: string[]; logos: string[] } => ({
  photos: [...new Set(copies.flatMap(({ copy }) => photosOf(copy)))],
  logos: [...new Set(copies.flatMap(({ copy }) => copy.head.logo?.picture ?? []))],
});
