/** Engines that know only text, beside ours: the database's full text (every match ranked) and MiniSearch. */
import MiniSearch from 'minisearch';
import type { Database } from '@/lib/store/database';
import type { Fleet } from '../search/set/charts';
import { plainText, textWithFacts } from '../search/set/text';
import type { Repair } from '../search/set/types';

export interface Engine {
  name: string;
  search(query: string, limit: number): Promise<string[]>; // ids, best first
  buildSeconds: number;
}

export async function openBaselines(fleet: Fleet, repairs: readonly Repair[], database: Database): Promise<Engine[]> {
  const titles = new Map(fleet.machines.map((m) => [m.chart.id, m.title]));
  const texts = {
    'plain text': repairs.map((r) => ({ id: r.id, text: plainText(r) })),
    'text with facts': repairs.map((r) => ({ id: r.id, text: textWithFacts(r, titles.get(r.machine) ?? '') })),
  };
  const engines: Engine[] = [];
  for (const [name, docs] of Object.entries(texts)) engines.push(await fullText(name, docs, database), miniSearch(name, docs));
  return engines;
}

type Docs = { id: string; text: string }[];

/** Any of the words, so that a question in a customer's words finds something at all; ranked over all matches. */
async function fullText(name: string, docs: Docs, { $client }: Database): Promise<Engine> {
  const table = `baseline_${name.replace(/ /g, '_')}`;
  const began = performance.now();
  await $client.query(
    `create table ${table} (id text primary key, body text not null, words tsvector generated always as (to_tsvector('english', body)) stored)`,
  );
  for (let at = 0; at < docs.length; at += 1000) {
    const some = docs.slice(at, at + 1000);
    await $client.query(`insert into ${table} (id, body) select * from unnest($1::text[], $2::text[])`, [
      some.map((d) => d.id),
      some.map((d) => d.text),
    ]);
  }
  await $client.query(`create index on ${table} using gin (words)`);
  await $client.query(`analyze ${table}`);
  return {
    name: `PostgreSQL, ${name}`,
    buildSeconds: (performance.now() - began) / 1000,
    search: async (query, limit) => {
      const { rows } = await $client.query<{ id: string }>(
        `select id from ${table}, (select nullif(replace(plainto_tsquery('english', $1)::text, '&', '|'), '')::tsquery as q) asked
         where words @@ q order by ts_rank(words, q) desc, id limit $2`,
        [query, limit],
      );
      return rows.map((row) => row.id);
    },
  };
}

function miniSearch(name: string, docs: Docs): Engine {
  const began = performance.now();
  const index = new MiniSearch<Docs[number]>({ fields: ['text'], searchOptions: { prefix: true, fuzzy: 0.2 } });
  index.addAll(docs);
  return {
    name: `MiniSearch, ${name}`,
    buildSeconds: (performance.now() - began) / 1000,
    search: async (query, limit) =>
      index
        .search(query)
        .slice(0, limit)
        .map((hit) => String(hit.id)),
  };
}
