/** What this device keeps of a member's pages: sending it, and letting it go. */
import { openPage } from './client';
import { forgetKept, type Kept, keptPages } from './kept';
import { clearShelf } from './shelf';

export { type Kept, keptPages } from './kept';

const sendLimitMs = 20_000;

/** Sends the changes that earlier visits of a member left on this device, page by page. Answers what could not be sent. */
export async function sendKept(member: string, open: typeof openPage = openPage): Promise<Kept[]> {
  const mine = () => keptPages().filter((kept) => kept.member === member);
  for (const { page, title } of mine()) {
    const live = open(page, undefined, undefined, { keep: { member, title } });
    await settled(live.saved);
    live.close();
  }
  return mine();
}

/** Removes all that this device keeps of a member, sent or not. */
export async function forgetMember(member: string): Promise<void> {
  forgetKept(member);
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
