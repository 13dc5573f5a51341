/** Who may see a picture: those who may see something that holds it. */
import { heldPicture, type PictureRow, pageHolds } from '@/lib/store/pictures';
import { type Actor, can } from './can';

/** A customer's link: the page whose write-up it opens, and what that shows. */
export interface ReportAsker {
  page: string;
  shows: readonly string[]; // hashes of photos
  logo: string | null;
}

/**
 * The picture, when whoever asks may see it; null alike for a picture that there is not, one that is not theirs to see, and one whose
 * pages were removed, so that an answer tells nothing.
 */
export async function maySeePicture(asker: Actor | ReportAsker, hash: string): Promise<PictureRow | null> {
  if (asker === null) return null;
  const held = await heldPicture(hash);
  if (!held) return null;
  const { onPage, onChart, onLetterhead, ...picture } = held;
  if ('shows' in asker) {
    if (onLetterhead && asker.logo === hash) return picture;
    return asker.shows.includes(hash) && (await pageHolds(asker.page, hash)) ? picture : null;
  }
  if (!can(asker, 'read', 'file')) return null;
  const seen = (onPage && can(asker, 'read', 'page')) || (onChart && can(asker, 'read', 'machine'));
  return seen || (onLetterhead && can(asker, 'read', 'club')) ? picture : null;
}
