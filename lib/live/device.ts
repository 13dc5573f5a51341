/** What this device keeps of a member's pages: sending it, and letting it go. */
import { openPage } from './client';
import { forgetKept, type Kept, keptPages } from './kept';
import { forgetPictures, recallPictures, sendPictures, type WaitingPicture } from './outbox';
import { clearShelf, recallDocuments } from './shelf';

export { type Kept, keptPages } from './kept';
export { clearSent as forgetSent } from './shelf';

const sendLimitMs = 20_000;

/** Sends the pictures and changes that earlier visits of a member left on this device. Answers what could not be sent, by page. */
export async function sendKept(member: string, open: typeof openPage = openPage): Promise<Kept[]> {
  const mine = () => keptPages().filter((kept) => kept.member === member);
  for (const { page, title } of mine()) {
    const live = open(page, undefined, undefined, { keep: { member, title } });
    await settled(live.saved);
    live.close();
  }
  const left = mine();
  for (const { page, title, at } of await sendAllPictures(member)) {
    const known = left.find((kept) => kept.page === page);
    if (known) known.changes++;
    else left.push({ page, member, title, changes: 1, window: '', at });
  }
  return left;
}

const pictureTries = 3;
const betweenTriesMs = 2000; // a network that has just come back drops the first request now and then

async function sendAllPictures(member: string): Promise<WaitingPicture[]> {
  for (let tries = 1; ; tries++) {
    const left = await sendPictures(member);
    if (tries === pictureTries || left.every((picture) => picture.refused !== undefined)) return left;
    await new Promise((resolve) => setTimeout(resolve, betweenTriesMs));
  }
}

/**
 * Puts back on the lists of what this device keeps what they have lost. A browser that is killed, as phones do it, loses the newest of
 * its storage (Chromium 156 writes it down seconds later); what is in its databases stays.
 */
export async function recallKept(): Promise<void> {
  await Promise.all([recallDocuments(), recallPictures()]);
}

/** Removes all that this device keeps of a member, sent or not. */
export async function forgetMember(member: string): Promise<void> {
  forgetKept(member);
  await forgetPictures(member);
  await clearShelf(member);
}

/** Resolves when everything is saved, refused, or too late. */
function settled({ subscribe, getSnapshot }: ReturnType<typeof openPage>['saved']): Promise<void> {
  return new Promise((resolve) => {
    const end = () => {
      clearTimeout(timer);
      leave();
      resolve();
    };
    const look = () => {
      const { state, kept } = getSnapshot();
      if (state === 'refused' || (state === 'saved' && kept === 0)) end();
    };
    const timer = setTimeout(end, sendLimitMs);
    const leave = subscribe(look);
  });
}
