/** The club's letterhead, as it is kept; what was never set follows from the club and its catalogue. */
import { type Letterhead, letterhead } from '@/lib/notebook/writeup/letterhead';
import { getSetting, setSetting } from './club';
import { getCatalogue } from './parts';

export const letterheadKey = 'club.letterhead';

export async function getLetterhead(): Promise<Letterhead> {
  const [own, name, { catalogue }] = await Promise.all([ownLetterhead(), getSetting('club.name'), getCatalogue()]);
  return own ?? { name: name ?? 'Your club', address: [], logo: null, currency: catalogue.currency, rate: null };
}

/** The one that somebody set; null when nobody did. */
export async function ownLetterhead(): Promise<Letterhead | null> {
  const kept = await getSetting(letterheadKey);
  return kept === null ? null : letterhead.parse(JSON.parse(kept));
}

export const setLetterhead = (given: Letterhead): Promise<void> => setSetting(letterheadKey, JSON.stringify(given));
