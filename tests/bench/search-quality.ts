/** How good the order of the answers is: ours beside the baselines, on the questions held out (or, named, those for tuning). */
import type { Database } from '@/lib/store/database';
import { labelledSet, type Part } from '../search/set';
import { mean, ndcg, recall, reciprocalRank } from '../search/set/metrics';
import { figure } from './figure';
import { openBaselines } from './search-baselines';
import { openOurs } from './search-ours';

const shown = 20;

export async function benchQuality(database: Database, part: Part) {
  const set = labelledSet(part);
  const byId = new Map(set.repairs.map((r) => [r.id, r]));
  const judged = set.queries.map((query) => ({ query, all: set.repairs.map((r) => set.gradeOf(query, r)) }));

  /** One list of measures a question. */
  async function measure(search: (query: string, limit: number) => Promise<string[]>) {
    const rows = [];
    for (const { query, all } of judged) {
      const grades = (await search(query.text, shown)).map((id) => {
        const repair = byId.get(id);
        return repair ? set.gradeOf(query, repair) : 0;
      });
      rows.push({
        kind: query.kind,
        ndcg: ndcg(grades, all, 10),
        rr: reciprocalRank(grades, Math.min(2, Math.max(...all))),
        recall: recall(grades, all, shown),
      });
    }
    return rows;
  }
  const say = (name: string, rows: Awaited<ReturnType<typeof measure>>, bar?: number) => {
    figure('search', `${part}: nDCG@10, ${name}`, mean(rows.map((r) => r.ndcg)), '0–1', bar, 'at least');
    figure('search', `${part}: MRR of answers graded 2 or more, ${name}`, mean(rows.map((r) => r.rr)), '0–1');
    figure('search', `${part}: recall@20, ${name}`, mean(rows.map((r) => r.recall)), '0–1');
    return mean(rows.map((r) => r.ndcg));
  };

  const baselines: number[] = [];
  for (const engine of await openBaselines(set.fleet, set.repairs, database))
    baselines.push(say(engine.name, await measure(engine.search)));
  const ours = await openOurs(set.fleet, set.repairs, database);
  const rows = await measure(ours.search);
  const value = say('ours', rows, 0.85);
  figure('search', `${part}: nDCG@10 above the better baseline`, value - Math.max(...baselines), '0–1', 0.3, 'at least');
  for (const kind of new Set(rows.map((r) => r.kind)))
    figure(
      'search',
      `${part}: nDCG@10, ours, questions of kind ${kind}`,
      mean(rows.filter((r) => r.kind === kind).map((r) => r.ndcg)),
      '0–1',
    );
}
