/** Dates, sums and counts in words. */
export { money } from '@/lib/core/money';

const months = ['January', 'February', 'March', 'April', 'May', 'June', 'July', 'August', 'September', 'October', 'November', 'December'];

/** `2026-03-14…` → `14 March 2026`; anything else as it stands. */
export function day(iso: string): string {
  const [, year, month, date] = /^(\d{4})-(\d{2})-(\d{2})/.exec(iso) ?? [];
  return year ? `${Number(date)} ${months[Number(month) - 1]} ${year}` : iso;
}

/** 95 → `1 h 35 min`. */
export const duration = (minutes: number) =>
  minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h${minutes % 60 ? ` ${minutes % 60} min` : ''}`;

/** `4`, `4 and 9`, `4, 9 and 12`. */
export const listed = (items: readonly (string | number)[]) =>
  items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;

/** A number and its per cent sign never part at the end of a line. */
export const unbroken = (text: string) => text.replaceAll(' %', '\u00a0%');

/** A moment as the clock on the wall had it, with its distance from UTC in minutes: `2026-03-14T10:04:12+01:00`. */
export function localIso(moment: Date, minutesEast: number): string {
  const wall = new Date(moment.getTime() + minutesEast * 60_000).toISOString().slice(0, 19);
  const size = Math.abs(minutesEast);
  const pad = (n: number) => String(n).padStart(2, '0');
  return `${wall}${minutesEast < 0 ? '-' : '+'}${pad(Math.floor(size / 60))}:${pad(size % 60)}`;
}

/** Why it is so, since when, and who saw it: "Burnt run replaced. So since 2019. Wen Halloran, 3 May 2024". */
export const seenWords = ({ why, since, by, on }: { why: string; since?: string; by: string; on: string }): string =>
  [ended(why), since ? `So since ${since}.` : '', `${by}, ${day(on)}`].filter(Boolean).join(' ');
const ended = (sentence: string) => (/[\p{L}\p{N})]$/u.test(sentence) ? `${sentence}.` : sentence);
