/** Groups of words that mean the same in the trade: the ones that come with the notebook until the club has its own. */
import * as z from 'zod';
import given from '@/content/thesaurus.json';
import { getSetting, setSetting } from '@/lib/store/club';

const mostGroups = 400;
const mostWords = 40;
const longest = 60; // characters of a word or phrase

const word = z.string().trim().min(1).max(longest);
export const thesaurusShape = z.object({ groups: z.array(z.array(word).min(2).max(mostWords)).max(mostGroups) });

export const givenGroups: readonly string[][] = given.groups;

/** The groups that the club wrote; null when it wrote none, or what is kept does not read any more. */
export async function ownGroups(): Promise<string[][] | null> {
  const kept = await getSetting('thesaurus');
  return kept === null ? null : (thesaurusShape.safeParse(JSON.parse(kept)).data?.groups ?? null);
}

/** The club's groups; those that come with the notebook where it has none of its own. */
export const clubGroups = async (): Promise<readonly string[][]> => (await ownGroups()) ?? givenGroups;

export const setClubGroups = (groups: readonly string[][]): Promise<void> => setSetting('thesaurus', JSON.stringify({ groups }));

/** One group a line, its words between commas. */
export const asLines = (groups: readonly string[][]): string => groups.map((group) => group.join(', ')).join('\n');

/** Reads lines as `asLines` writes them; the first line that is no group is named, with the mend. */
export function readLines(text: string): { ok: true; groups: string[][] } | { ok: false; message: string } {
  const groups: string[][] = [];
  for (const [n, line] of text.split('\n').entries()) {
    if (line.trim() === '') continue;
    const words = [
      ...new Set(
        line
          .split(',')
          .map((w) => w.trim().toLowerCase())
          .filter(Boolean),
      ),
    ];
    if (words.length < 2)
      return { ok: false, message: `Line ${n + 1}: write at least two words that mean the same, with a comma between them.` };
    if (words.length > mostWords) return { ok: false, message: `Line ${n + 1}: at most ${mostWords} words; make two lines of it.` };
    const long = words.find((w) => w.length > longest);
    if (long) return { ok: false, message: `Line ${n + 1}: “${long.slice(0, 20)}…” is longer than ${longest} characters.` };
    groups.push(words);
  }
  if (groups.length > mostGroups) return { ok: false, message: `${groups.length} lines are more than the ${mostGroups} there may be.` };
  return { ok: true, groups };
}
