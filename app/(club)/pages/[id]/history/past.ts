/** A page's past, as its screens need it. */
import { notFound } from 'next/navigation';
import { contentOf } from '@/lib/notebook/content';
import { noContent, pageDifferences, summaryOf, summaryWords } from '@/lib/notebook/differences';
import type { PageContent } from '@/lib/notebook/types';
import { listStretches, pageAt } from '@/lib/store/history';
import { getPage } from '@/lib/store/pages';
import type { Stretch } from '@/lib/store/types';

/** The page and its stretches, oldest first. */
export async function loadPast(id: string) {
  const page = await getPage(id);
  if (!page) notFound();
  const stretches = (await listStretches(id)).toSorted((a, b) => a.number - b.number);
  return { page, stretches };
}

/** The page as it was at an entry of its log; 0: before the first. Nobody sees a page at a number that it never had. */
export async function contentAt(id: string, number: number): Promise<PageContent> {
  if (number === 0) return noContent;
  const past = await pageAt(id, number);
  if (!past) notFound();
  try {
    return contentOf(past.doc);
  } finally {
    past.doc.destroy();
  }
}

const kept = new Map<string, string>(); // what lies between two entries never changes
const mostKept = 2000;

/** One line for each stretch: what it changed. The stretches follow each other, oldest first; `before` is the entry ahead of the first. */
export async function summariesOf(id: string, stretches: readonly Stretch[], before: number): Promise<Map<number, string>> {
  const summaries = new Map<number, string>();
  let left: { number: number; content: PageContent } | null = null;
  let previous = before;
  for (const { number } of stretches) {
    const key = `${id} ${previous} ${number}`;
    let words = kept.get(key);
    if (words === undefined) {
      const from: PageContent = left?.number === previous ? left.content : await contentAt(id, previous);
      const to = await contentAt(id, number);
      words = summaryWords(summaryOf(pageDifferences(from, to)));
      left = { number, content: to };
      kept.set(key, words);
      const [oldest] = kept.keys();
      if (kept.size > mostKept && oldest !== undefined) kept.delete(oldest);
    }
    summaries.set(number, words);
    previous = number;
  }
  return summaries;
}
