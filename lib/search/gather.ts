/** Gathers from the database what a query touched on each page; ranking is done elsewhere, by pure functions. */
import { sql } from 'drizzle-orm';
import { database } from '@/lib/store/database';
import type { FactKind } from '@/lib/widgets/definition';
import { type Corpus, factsSought, type Match } from './rank';
import type { IndexRecord } from './record';
import type { QueryPart } from './types';

export interface Found extends Match {
  title: string;
  record: IndexRecord;
  machineId: string | null;
  design: string | null;
}

const texts = (list: string[]) => sql`${sql.param(list)}::text[]`;

export async function gather(parts: QueryPart[]): Promise<{ found: Found[]; corpus: Corpus }> {
  const sought = parts.flatMap(factsSought);
  const asked = parts.filter((p) => p.as === 'word').flatMap((p) => [p.value, ...p.synonyms].map((via) => ({ value: p.value, via })));
  const db = database();
  const [facts, words, total] = await Promise.all([
    sought.length === 0
      ? { rows: [] }
      : db.execute<{ page: string; kind: FactKind; value: string; label: string }>(
          sql`select f.page, f.kind, f.value, f.label from page_fact f
              join unnest(${texts(sought.map((s) => s.kind))}, ${texts(sought.map((s) => s.value))}) as s(kind, value) on s.kind = f.kind and s.value = f.value`,
        ),
    asked.length === 0
      ? { rows: [] }
      : db.execute<{ page: string; value: string; via: string; in_title: boolean }>(
          sql`select i.page, q.value, q.via, to_tsvector('english', i.title) @@ q.query as in_title
              from (select value, via, phraseto_tsquery('english', via) as query
                    from unnest(${texts(asked.map((a) => a.value))}, ${texts(asked.map((a) => a.via))}) as a(value, via)) q
              join page_index i on numnode(q.query) > 0 and i.words @@ q.query`,
        ),
    db.execute<{ pages: number }>(sql`select count(*)::int as pages from page_index`),
  ]);
  const pages = [...new Set([...facts.rows.map((r) => r.page), ...words.rows.map((r) => r.page)])];
  const rows =
    pages.length === 0
      ? []
      : (
          await db.execute<{
            page: string;
            title: string;
            state: 'open' | 'mended';
            record: IndexRecord;
            machine: string | null;
            design: string | null;
            day: string;
          }>(
            sql`select i.page, i.title, i.state, i.record, p.day::text as day, c.machine, c.design
                from page_index i join page p on p.id = i.page and p.removed_at is null left join page_chart c on c.page = i.page
                where i.page = any(${texts(pages)})`,
          )
        ).rows;
  const withWord = new Map<string, number>();
  for (const part of parts)
    if (part.as === 'word') withWord.set(part.value, new Set(words.rows.filter((w) => w.value === part.value).map((w) => w.page)).size);
  return {
    corpus: { pages: total.rows[0]?.pages ?? 0, withWord },
    found: rows.map((row) => ({
      page: row.page,
      title: row.title,
      state: row.state,
      record: row.record,
      machineId: row.machine,
      design: row.design,
      on: row.record.on || row.day,
      facts: facts.rows.filter((f) => f.page === row.page),
      words: words.rows.filter((w) => w.page === row.page).map((w) => ({ value: w.value, via: w.via, inTitle: w.in_title })),
    })),
  };
}
