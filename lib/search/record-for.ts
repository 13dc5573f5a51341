/** The club's record as one page's fault finder gets it: proven fixes by cause, those that began like this page counted twice. */
import { sql } from 'drizzle-orm';
import type { FixCounts } from '@/lib/core/diagnosis/switch/priors';
import { readSymptom } from '@/lib/core/symptom/read';
import { database } from '@/lib/store/database';
import { fixCounts } from '@/lib/store/fixes';
import { askWith } from './ask';
import { readyIndex } from './kept-index';

/** Proven fixes on the board design of the page's machine by fault class; empty when the page belongs to no machine. */
export async function recordFor(page: string): Promise<FixCounts> {
  const counts = await fixCounts(page);
  if (Object.keys(counts).length === 0) return counts;
  const like = await causesLike(page);
  return Object.fromEntries(Object.entries(counts).map(([cause, n]) => [cause, n + Math.min(n, like.get(cause) ?? 0)])) as FixCounts;
}

/** Causes of mended pages of the same board design that say of their fault what this page says; none while it says nothing. */
async function causesLike(page: string): Promise<Map<string, number>> {
  const { rows } = await database().execute<{ title: string; design: string | null; symptoms: string[] }>(
    sql`select i.title, c.design, coalesce(array(select label from page_fact f where f.page = i.page and f.kind = 'symptom'), '{}') as symptoms
        from page_index i left join page_chart c on c.page = i.page where i.page = ${page}`,
  );
  const own = rows[0];
  if (!own?.design) return new Map();
  const { index, lexicon } = await readyIndex();
  const reading = readSymptom([own.title, ...own.symptoms].join('. '), lexicon);
  if (!reading.terms.some((t) => t.kind === 'does')) return new Map();
  const { causes } = index.find(askWith(reading, [], index.rarity), 1, { state: 'mended', design: own.design }, page);
  return new Map(causes.map(({ value, count }) => [value, count]));
}
