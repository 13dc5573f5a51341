/** What to tell a person whose socket was refused, by close code. */
import { closeBadMessage, closeForbidden, closeReload, closeSignedOut, closeUnknownPage } from './protocol';

const words: Record<number, string> = {
  [closeBadMessage]: 'The server did not understand this window. Copy what you wrote last, then reload the page.',
  [closeSignedOut]: 'You are signed out. Sign in again in another window, then reload this page.',
  [closeForbidden]: 'You may no longer change this page. Ask an owner of the club.',
  [closeUnknownPage]: 'This page has been removed.',
  [closeReload]: 'Fettlebook has been updated. Reload the page to go on.',
};

/** One sentence for the close code, with what to do. */
export const refusalWords = (code: number) => words[code] ?? 'The server refused this page. Reload it.';
