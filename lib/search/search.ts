/** Past fixes by symptom: one box for words and clues, each result with its reasons. */

import { sql } from 'drizzle-orm';
import type { Chart } from '@/lib/core/chart/types';
import { faultName } from '@/lib/core/diagnosis/classes';
import { readSymptom } from '@/lib/core/symptom/read';
import { database } from '@/lib/store/database';
import type { FactKind } from '@/lib/widgets/definition';
import { answer } from './answer';
import { askWith, type Question } from './ask';
import { allCharts } from './charts';
import { type Correction, readCorrected } from './correct';
import { type Counted, type Facet, facets, type Narrowing } from './facet';
import type { Hit } from './fix-index';
import { readyIndex } from './kept-index';
import { vocabularyOf } from './language';
import { longestQuery, readQuery, splitQuery } from './read-query';
import type { IndexRecord } from './record';
import { clubGroups } from './thesaurus';
import type { ClueAnswer, QueryPart, SearchResponse, SearchResult } from './types';
import { whyOf } from './why';

export interface SearchOptions extends Correction {
  limit?: number;
  narrow?: Narrowing;
}

/** Everything of the club that fits, best first. Long queries are cut at 300 characters. */
export async function searchFixes(query: string, { limit = 20, narrow = {}, ...correction }: SearchOptions = {}): Promise<SearchResponse> {
  const began = performance.now();
  const { index, charts, groups, lexicon, slips, building } = await readyIndex();
  const vocabulary = vocabularyOf(charts, groups);
  const { clues, rest } = splitQuery(query, vocabulary);
  const reading = readCorrected(rest, lexicon, slips, correction);
  const parts = [...clues, ...designsOf(clues, charts)];
  const found = index.find(askWith(reading, parts, index.rarity), limit, narrow);
  const results = resultsOf(found.hits, charts); // the database looks for them while the charts are asked
  const answers = answer(query, readQuery(query, vocabulary), charts);
  return {
    query: query.slice(0, longestQuery),
    clues,
    reading,
    answers,
    results: await results,
    total: found.total,
    like: { count: found.like, causes: found.causes.map((c) => ({ ...c, name: faultName(c.value) })) },
    facets: Object.fromEntries(facets.map((facet) => [facet, named(facet, found.facets[facet], charts)])) as SearchResponse['facets'],
    building,
    milliseconds: performance.now() - began,
  };
}

/** The circuit itself, when the query is a clue: from the charts alone, so that it need not wait for the past fixes. */
export async function clueAnswers(query: string): Promise<ClueAnswer[]> {
  const [charts, groups] = await Promise.all([allCharts(), clubGroups()]);
  return answer(query, readQuery(query, vocabularyOf(charts, groups)), charts);
}

const seenKinds: FactKind[] = ['pin', 'wire', 'circuit', 'header', 'board-design'];

/** Past fixes like this page, those at the same pin of the same board design first, then by what it says, circuits and pins. The page itself is left out. */
export async function seenBefore(page: string, limit: number): Promise<SearchResult[]> {
  const db = database();
  const [own, facts, { index, charts, groups, lexicon }] = await Promise.all([
    db.execute<{ title: string; place: string | null; machine: string | null; design: string | null }>(
      sql`select i.title, i.record ->> 'place' as place, c.machine, c.design from page_index i left join page_chart c on c.page = i.page where i.page = ${page}`,
    ),
    db.execute<{ kind: FactKind; value: string; label: string }>(
      sql`select kind, value, label from page_fact where page = ${page} and kind = any(${sql.param([...seenKinds, 'symptom'])}::text[])`,
    ),
    readyIndex(),
  ]);
  const here = own.rows[0];
  if (!here) return [];
  const told = [here.title, ...facts.rows.filter((f) => f.kind === 'symptom').map((f) => f.label)].join('. ');
  const clues = facts.rows
    .filter((f) => f.kind !== 'symptom')
    .map((f): QueryPart => ({ text: f.value, as: f.kind as QueryPart['as'], value: f.value, label: f.label, synonyms: [] }));
  const question = onlyHere(askWith(readSymptom(told, lexicon), clues, index.rarity), here);
  const { hits } = index.find(question, 100, { state: 'mended' }, page);
  const pinIn = (place: string) => readQuery(place, vocabularyOf(charts, groups)).find((p) => p.as === 'pin')?.value;
  const pin = pinIn(here.place ?? '');
  const samePin = (r: SearchResult) =>
    pin !== undefined && pinIn(r.place) === pin && charts.some((c) => c.machine.id === r.machineId && c.design.id === here.design);
  // The same board design alone is no likeness.
  return (await resultsOf(hits, charts))
    .map((r) => ({ r, first: samePin(r) }))
    .sort((a, b) => Number(b.first) - Number(a.first))
    .map(({ r, first }) => (first ? { ...r, why: [`was at ${pin} too`, ...r.why] } : r))
    .filter((r) => r.why.some((w) => !w.startsWith('same board design')))
    .slice(0, limit);
}

const ofMachine = /^(circuit|sibling):[^@]+$/;
const ofDesign = /^(pin|header|place):[^@]+$/;

/** A switch number means another switch on another machine, a pin another line on another board design. */
const onlyHere = (question: Question, { machine, design }: { machine: string | null; design: string | null }): Question => ({
  ...question,
  items: question.items.map((item) => ({
    ...item,
    options: item.options.map(([feature, value]): [string, number] => [
      ofMachine.test(feature) ? `${feature}@${machine}` : ofDesign.test(feature) ? `${feature}@${design}` : feature,
      value,
    ]),
  })),
});

/** A machine named in the query also speaks for its board design: the same pin fails on its sisters. */
function designsOf(clues: QueryPart[], charts: Chart[]): QueryPart[] {
  return clues
    .filter((p) => p.as === 'machine')
    .flatMap((p) =>
      charts
        .filter((c) => c.machine.id === p.value)
        .map((c): QueryPart => ({ text: p.text, as: 'board-design', value: c.design.id, label: c.design.id, synonyms: [] })),
    );
}

const named = (facet: Facet, counted: Counted[], charts: Chart[]) =>
  counted.map((c) => ({
    ...c,
    name:
      facet === 'cause'
        ? faultName(c.value)
        : facet === 'machine'
          ? (charts.find(({ machine }) => machine.id === c.value)?.title ?? c.value)
          : c.value,
  }));

async function resultsOf(hits: Hit[], charts: Chart[]): Promise<SearchResult[]> {
  if (hits.length === 0) return [];
  const { rows } = await database().execute<{
    page: string;
    title: string;
    state: 'open' | 'mended';
    record: IndexRecord;
    machine: string | null;
    day: string;
    body: string;
    facts: { kind: FactKind; value: string; label: string }[];
  }>(
    sql`select i.page, i.title, i.body, i.state, i.record, p.day::text as day, c.machine,
               coalesce((select json_agg(json_build_object('kind', f.kind, 'value', f.value, 'label', f.label) order by f.kind, f.value) from page_fact f where f.page = i.page), '[]') as facts
        from page_index i join page p on p.id = i.page and p.removed_at is null left join page_chart c on c.page = i.page
        where i.page = any(${sql.param(hits.map((h) => h.page))}::text[])`,
  );
  const byPage = new Map(rows.map((row) => [row.page, row]));
  return hits.flatMap((hit): SearchResult[] => {
    const row = byPage.get(hit.page);
    if (!row) return [];
    return [
      {
        page: row.page,
        title: row.title,
        machine: charts.find((c) => c.machine.id === row.machine)?.title ?? '',
        machineId: row.machine,
        on: row.record.on || row.day,
        by: row.record.by,
        minutes: row.record.minutes,
        state: row.state,
        cause: row.record.cause,
        place: row.record.place,
        excerpt: row.record.excerpt,
        wires: row.record.wires,
        why: whyOf(hit, row),
        score: hit.score,
      },
    ];
  });
}
