/** A page's write-up as it stands, and as whoever has a link sees it. */
import { maySeePicture } from '@/lib/access/pictures';
import { type Opened, openReport } from '@/lib/access/reports';
import { readPicture } from '@/lib/files/pictures';
import { writeUp } from '@/lib/notebook/writeup';
import { type Copy, copyOf, photosOf } from '@/lib/notebook/writeup/copy';
import { draftOf } from '@/lib/notebook/writeup/wording';
import { recordOf } from '@/lib/search/record';
import { getLetterhead } from '@/lib/store/letterhead';
import { getCopy, isPriced, wordingsOf } from '@/lib/store/write-ups';
import { loadPage } from './(club)/pages/[id]/load';

/** What the page gives, with the wording over it, and the copy that sending would freeze. */
export async function loadDraft(id: string) {
  const [{ page, letterhead, derived, proved }, wordings, priced] = await Promise.all([derive(id), wordingsOf(id), isPriced(id)]);
  const lines = draftOf(derived, wordings, letterhead.currency);
  const copy = copyOf(lines, { letterhead, machine: derived.machine, on: page.on, priced, proved });
  return { page, letterhead, derived, lines, priced, copy };
}

async function derive(id: string) {
  const [{ page, content, chart, evaluated, catalogue, reserved }, letterhead] = await Promise.all([loadPage(id), getLetterhead()]);
  const { currency, rate } = letterhead;
  const { mended, proved } = recordOf(evaluated).job;
  return {
    page,
    letterhead,
    proved: mended && proved,
    derived: writeUp(evaluated, content, chart, { catalogue, used: reserved.used, currency, rate }),
  };
}

/** What a link shows: the copy that was sent; of a link from before copies were kept, what the page itself says today. */
export async function shownBy({ page, copy }: { page: string; copy: string | null }): Promise<Copy | null> {
  if (copy !== null) return (await getCopy(copy))?.copy ?? null;
  const { page: row, letterhead, derived, proved } = await derive(page);
  return copyOf(draftOf(derived, {}, letterhead.currency), { letterhead, machine: derived.machine, on: row.on, priced: false, proved });
}

export const keyCookie = (link: string) => `report-${link}`;

/** The link as whoever asks with these headers meets it. */
export async function openedHere(headers: Headers, token: string): Promise<Opened> {
  const met = await openReport(token, null);
  if (met.state !== 'locked') return met;
  const pairs = (headers.get('cookie') ?? '').split('; ').map((pair) => pair.split('='));
  return openReport(token, pairs.find(([name]) => name === keyCookie(met.link.id))?.[1] ?? null);
}

/** Who asks for the pictures of a copy of that page. */
export const askerOf = (page: string, copy: Copy) => ({ page, shows: photosOf(copy), logo: copy.head.logo?.picture ?? null });

/** Files of the pictures of a copy, for paper; those that are gone are left out. */
export async function filesOf(page: string, copy: Copy): Promise<Map<string, Buffer>> {
  const asker = askerOf(page, copy);
  const hashes = [...new Set([...asker.shows, ...(asker.logo ? [asker.logo] : [])])];
  const files = await Promise.all(
    hashes.map(async (hash) => {
      const picture = await maySeePicture(asker, hash);
      return picture && (await readPicture(picture, 1600));
    }),
  );
  return new Map(hashes.flatMap((hash, at) => (files[at] ? [[hash, Buffer.from(files[at].bytes)] as const] : [])));
}
