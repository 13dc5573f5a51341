/** Many repairs: latency of ours and of the baselines with what each finds, the speed of building, memory, clue answers. */
import type { Database } from '@/lib/store/database';
import { labelledSet } from '../search/set';
import { mean, ndcg, recall } from '../search/set/metrics';
import type { Query } from '../search/set/types';
import { figure } from './figure';
import { openBaselines } from './search-baselines';
import { openOurs } from './search-ours';

const shown = 20;
const best = 3; // with many repairs nearly every list has something of use; what counts are the best

const at = (sorted: readonly number[], share: number) =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
const residentMemory = () => {
  global.gc?.();
  return process.memoryUsage().rss;
};

export async function benchScale(database: Database, count: number) {
  const set = labelledSet('hold', count);
  const many = `${count.toLocaleString('en')} repairs`;
  const byId = new Map(set.repairs.map((r) => [r.id, r]));
  const judged = set.queries.map((query) => ({ query, all: Uint8Array.from(set.repairs, (r) => set.gradeOf(query, r)) }));

  interface Asked {
    times: number[]; // ms
    ids: string[][];
  }
  async function ask(search: (query: string, limit: number) => Promise<string[]>): Promise<Asked> {
    const asked: Asked = { times: [], ids: [] };
    for (const { query } of judged.slice(0, 10)) await search(query.text, shown);
    for (const { query } of judged) {
      const began = performance.now();
      asked.ids.push(await search(query.text, shown));
      asked.times.push(performance.now() - began);
    }
    return asked;
  }
  /** Not while anything is timed: to sort all repairs by their grade is more work than a search, and leaves its garbage to whoever comes next. */
  function judge(name: string, { times, ids }: Asked, bar?: number) {
    const rows = judged.map(({ query, all }, n) => {
      const grades = ids[n]!.map((id) => gradeOf(query, id));
      return { recall: all.includes(best) ? recall(grades, all, shown, best) : null, ndcg: ndcg(grades, all, 10) };
    });
    times.sort((a, b) => a - b);
    const p95 = at(times, 0.95);
    const found = mean(rows.flatMap((r) => r.recall ?? []));
    figure('search', `p50, ${name}, ${many}`, at(times, 0.5), 'ms');
    figure('search', `p95, ${name}, ${many}`, p95, 'ms', bar);
    figure('search', `recall@20 of the best answers, ${name}, ${many}`, found, '0–1');
    const quality = mean(rows.map((r) => r.ndcg));
    figure('search', `nDCG@10, ${name}, ${many}`, quality, '0–1');
    return { p95, recall: found, quality };
  }
  const gradeOf = (query: Query, id: string) => {
    const repair = byId.get(id);
    return repair ? set.gradeOf(query, repair) : 0;
  };

  const before = residentMemory();
  const ours = await openOurs(set.fleet, set.repairs, database);
  figure('search', `index build, ${many}`, count / ours.buildSeconds, 'repairs/s', 2000, 'at least');
  figure('search', `memory of this process more than before, ours, ${many}`, (residentMemory() - before) / 1e6, 'MB');
  const searched = await ask(ours.search);
  const clues = judged.filter(({ query }) => query.kind === 'clue');
  const times: number[] = [];
  let right = 0;
  for (const { query } of clues) {
    const began = performance.now();
    const answers = await ours.clue(query.text);
    times.push(performance.now() - began);
    const { clue, machine } = query.asked;
    const answered = answers.some(
      (a) =>
        (!machine || a.machine === machine) &&
        clue &&
        ('number' in clue ? a.id === clue.number : 'wire' in clue ? a.wires.includes(clue.wire) : a.pins.includes(clue.pin)),
    );
    if (answered) right += 1;
  }
  times.sort((a, b) => a - b);
  figure('search', `clue answers, p95, ${many}`, at(times, 0.95), 'ms', 5);
  figure('search', 'clues that are answered by their circuit', right / clues.length, '0–1');

  const own = judge('ours', searched, 30);
  const bytes = ours.bytes();
  if (!Number.isNaN(bytes)) figure('search', `index in the process, ${many}`, bytes / 1e6, 'MB');

  const others: { p95: number; quality: number }[] = [];
  for (const engine of await openBaselines(set.fleet, set.repairs, database)) {
    figure('search', `index build, ${engine.name}, ${many}`, count / engine.buildSeconds, 'repairs/s');
    others.push(judge(engine.name, await ask(engine.search)));
  }
  const faster = others.reduce((a, b) => (b.p95 < a.p95 ? b : a));
  figure('search', `p95 of ours over that of the faster baseline, ${many}`, own.p95 / faster.p95, '×', 1);
  figure('search', `nDCG@10 of ours above that of the faster baseline, ${many}`, own.quality - faster.quality, '0–1', 0, 'at least');
}
