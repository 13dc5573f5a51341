/** Past fixes by symptom: one box for words and clues, each result with its reasons. */
import { sql } from 'drizzle-orm';
import thesaurus from '@/content/thesaurus.json';
import type { Chart } from '@/lib/core/chart/types';
import { lookup } from '@/lib/core/lookup';
import { database } from '@/lib/store/database';
import type { FactKind } from '@/lib/widgets/definition';
import { allCharts } from './charts';
import { type Found, gather } from './gather';
import { rate } from './rank';
import { longestQuery, readQuery, type Vocabulary } from './read-query';
import type { ClueAnswer, QueryPart, SearchResponse, SearchResult } from './types';

const mostAnswers = 6;

/** Everything of the club that fits, best first. Long queries are cut at 300 characters. */
export async function searchFixes(
  query: string,
  { limit = 20, machine, state }: { limit?: number; machine?: string; state?: 'open' | 'mended' } = {},
): Promise<SearchResponse> {
  const began = performance.now();
  const charts = await allCharts();
  const parts = readQuery(query, vocabularyOf(charts));
  const results = (await ranked([...parts, ...designsOf(parts, charts)], charts)).filter(
    (r) => (!machine || r.machineId === machine) && (!state || r.state === state),
  );
  return {
    query: query.slice(0, longestQuery),
    parts,
    answers: answer(query, parts, charts),
    results: results.slice(0, limit),
    total: results.length,
    milliseconds: performance.now() - began,
  };
}

const seenKinds: FactKind[] = ['pin', 'wire', 'circuit', 'header', 'board-design'];

/** Past fixes like this page: the same circuits, pins and words. The page itself is left out. */
export async function seenBefore(page: string, limit: number): Promise<SearchResult[]> {
  const db = database();
  const [index, facts, charts] = await Promise.all([
    db.execute<{ title: string }>(sql`select title from page_index where page = ${page}`),
    db.execute<{ kind: FactKind; value: string; label: string }>(
      sql`select kind, value, label from page_fact where page = ${page} and kind = any(${sql.param(seenKinds)}::text[])`,
    ),
    allCharts(),
  ]);
  const title = index.rows[0]?.title;
  if (title === undefined) return [];
  const words = readQuery(title, vocabularyOf(charts)).filter((p) => p.as === 'word');
  const clues = facts.rows.map(
    (f): QueryPart => ({ text: f.value, as: f.kind as QueryPart['as'], value: f.value, label: f.label, synonyms: [] }),
  );
  const results = await ranked([...words, ...clues], charts);
  // The same board design alone is no likeness.
  return results
    .filter((r) => r.page !== page && r.state === 'mended' && r.why.some((w) => !w.startsWith('same board design')))
    .slice(0, limit);
}

const vocabularyOf = (charts: Chart[]): Vocabulary => ({
  machines: charts.map((c) => ({ id: c.machine.id, title: c.title })),
  designs: [...new Set(charts.map((c) => c.design.id))],
  thesaurus: thesaurus.groups,
});

/** A machine named in the query also speaks for its board design: the same pin fails on its sisters. */
function designsOf(parts: QueryPart[], charts: Chart[]): QueryPart[] {
  return parts
    .filter((p) => p.as === 'machine')
    .flatMap((p) =>
      charts
        .filter((c) => c.machine.id === p.value)
        .map((c): QueryPart => ({ text: p.text, as: 'board-design', value: c.design.id, label: c.design.id, synonyms: [] })),
    );
}

async function ranked(parts: QueryPart[], charts: Chart[]): Promise<SearchResult[]> {
  if (parts.length === 0) return [];
  const { found, corpus } = await gather(parts);
  return found
    .map((f) => ({ f, ...rate(f, parts, corpus) }))
    .filter((r) => r.score > 0)
    .sort((a, b) => b.score - a.score || b.f.on.localeCompare(a.f.on) || a.f.page.localeCompare(b.f.page))
    .map(({ f, score, why }) => resultOf(f, score, why, charts));
}

const resultOf = (f: Found, score: number, why: string[], charts: Chart[]): SearchResult => ({
  page: f.page,
  title: f.title,
  machine: charts.find((c) => c.machine.id === f.machineId)?.title ?? '',
  machineId: f.machineId,
  on: f.on,
  by: f.record.by,
  minutes: f.record.minutes,
  state: f.state,
  cause: f.record.cause,
  place: f.record.place,
  excerpt: f.record.excerpt,
  wires: f.record.wires,
  why,
  score,
});

/** The circuit itself, from every chart on which the clue has one clear answer. */
function answer(query: string, parts: QueryPart[], charts: Chart[]): ClueAnswer[] {
  const named = parts.filter((p) => p.as === 'machine').map((p) => p.value);
  const rest = parts
    .filter((p) => p.as !== 'machine')
    .map((p) => p.text)
    .join(' ');
  if (!rest) return [];
  return charts
    .filter((c) => named.length === 0 || named.includes(c.machine.id))
    .flatMap((chart): ClueAnswer[] => {
      const found = lookup(chart, named.length > 0 ? rest : query.slice(0, longestQuery));
      if (found.outcome !== 'one') return [];
      const lines = found.circuit?.lines ?? (found.line ? [found.line] : []);
      return [
        {
          machineId: chart.machine.id,
          machine: chart.title,
          kind: found.candidate.kind,
          id: found.candidate.id,
          title: found.candidate.title,
          wires: lines.map((l) => l.colour),
          pins: lines.flatMap((l) => l.taps.map((t) => t.pin)),
          reason: found.candidate.reasons.join(', '),
        },
      ];
    })
    .slice(0, mostAnswers);
}
