/** The club's letterhead, as it is kept; what was never set follows from the club and its catalogue. */
import { type Letterhead, letterhead } from '@/lib/notebook/writeup/letterhead';
import { getSetting, setSetting } from './club';
import { getCatalogue } from './parts';

export async function getLetterhead(): Promise<Letterhead> {
  const [kept, name, { catalogue }] = await Promise.all([getSetting('club.letterhead'), getSetting('club.name'), getCatalogue()]);
  if (kept !== null) return letterhead.parse(JSON.parse(kept));
  return { name: name ?? 'Your club', address: [], logo: null, currency: catalogue.currency, rate: null };
}

export const setLetterhead = (given: Letterhead): Promise<void> => setSetting('club.letterhead', JSON.stringify(given));
