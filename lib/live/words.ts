/** What to tell a person whose socket was refused, by close code. */
import { closeBadMessage, closeForbidden, closePageFull, closeReload, closeSignedOut, closeTooBig, closeUnknownPage } from './protocol';

const words: Record<number, string> = {
  [closeBadMessage]: 'The server did not understand this window. Copy what you wrote last, then reload the page.',
  [closeSignedOut]: 'You are signed out. Sign in again in another window, then reload this page.',
  [closeForbidden]: 'You may no longer change this page. Ask an owner of the club.',
  [closeUnknownPage]: 'This page has been removed.',
  [closeReload]: 'Fettlebook has been updated. Reload the page to go on.',
  [closeTooBig]: 'What was put in last is too big for one change (over 1 MB), so it was not saved. Reload the page and put it in in parts.',
  [closePageFull]:
    'This page is full (20 MB), so what you wrote last was not saved. Copy it, delete something here, or start another page.',
};

/** One sentence for the close code, with what to do. */
export const refusalWords = (code: number) => words[code] ?? 'The server refused this page. Reload it.';

/** Why a window whose build does not know all of the page may not write on it. `what` is a phrase like “a block of the kind …”. */
export const unknownWords = (what: string) =>
  `This page holds ${what}, which this window does not know yet: Fettlebook has been updated. Reload the page to go on. If this comes again, the server has gone back to an older version, and only the newer one can change this page.`;
