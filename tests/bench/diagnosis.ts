/**
 * The fault finder on simulated machines: does it find the fault when its own advice is followed, in how many tests, and is it as sure as
 * it may be? `npm run bench -- diagnosis [cases] [first seed]`.
 *
 * The complaint of these cases is the fault's own doing. With complaints that may be a slip as well (a press gone wrong while the fault keeps
 * quiet), a part of the faults cannot show at all in the session; the same figures for those are printed without a bar.
 */
import { fork } from 'node:child_process';
import { join } from 'node:path';
import type { Outcome } from './diagnosis-share';
import { figure, median } from './figure';

const cases = Number(process.argv[3] ?? 2000);
const first = Number(process.argv[4] ?? 10_000);
const processes = 2;

const outcomes = await solved(cases, true);
report('', outcomes, true);
tables(outcomes);
report(', complaints with slips', await solved(Math.ceil(cases / 10), false), false);

/** Every second case to each process. */
async function solved(count: number, shown: boolean): Promise<Outcome[]> {
  const all: Outcome[] = [];
  const share = (k: number) =>
    new Promise<void>((done, fail) => {
      const args = [first + k, count - k, processes, shown ? 1 : 0].map(String);
      const child = fork(join(import.meta.dirname, 'diagnosis-share.ts'), args);
      child.on('message', (outcome) => all.push(outcome as Outcome));
      child.on('exit', (code) => (code === 0 ? done() : fail(new Error(`A share of the cases ended with ${code}.`))));
    });
  await Promise.all(Array.from({ length: processes }, (_, k) => share(k)));
  return all.sort((a, b) => a.seed - b.seed);
}

function report(of: string, all: readonly Outcome[], judged: boolean): void {
  const bar = (value: number) => (judged ? value : undefined);
  const percent = (those: readonly Outcome[], holds: (one: Outcome) => boolean) => (100 * those.filter(holds).length) / those.length;
  const mean = (pick: (one: Outcome) => number) => all.reduce((sum, one) => sum + pick(one), 0) / all.length;
  const say = (name: string, value: number, unit: string, limit?: number, sense?: 'at most' | 'at least') =>
    figure('diagnosis', `${name}${of} (${all.length} cases)`, value, unit, limit, sense);
  const found = all.filter((one) => one.found);
  say('truth in the first three', percent(all, within(3)), '%', bar(95), 'at least');
  say('truth first', percent(all, within(1)), '%');
  say(
    'textbook order: truth in the first three',
    percent(all, (one) => one.textbook.rank !== null && one.textbook.rank <= 3),
    '%',
  );
  say(
    'textbook order: truth first',
    percent(all, (one) => one.textbook.rank === 1),
    '%',
  );
  const textbook = mean((one) => one.textbook.tests);
  say(
    'tests, mean',
    mean((one) => one.tests),
    'tests',
    bar(textbook),
  );
  say('tests, median', median(all.map((one) => one.tests)), 'tests');
  say('textbook order: tests, mean', textbook, 'tests');
  say('textbook order: tests, median', median(all.map((one) => one.textbook.tests)), 'tests');
  say(
    'minutes, mean',
    mean((one) => one.minutes),
    'min',
  );
  say('minutes, median', median(all.map((one) => one.minutes)), 'min');
  say(
    'textbook order: minutes, mean',
    mean((one) => one.textbook.minutes),
    'min',
  );
  say(
    'called found',
    percent(all, (one) => one.found),
    '%',
  );
  say('right when called found', percent(found, within(1)), '%', bar(95), 'at least');
}

function within(places: number) {
  return ({ rank }: Outcome) => rank !== null && rank <= places;
}

function tables(all: readonly Outcome[]): void {
  console.log('\n| share of the first | cases | mean share | right |\n|---|---|---|---|');
  for (let decile = 0; decile < 10; decile++) {
    const those = all.filter(({ topShare }) => Math.min(9, Math.floor(topShare * 10)) === decile);
    if (those.length === 0) continue;
    const share = those.reduce((sum, one) => sum + one.topShare, 0) / those.length;
    const right = those.filter(within(1)).length / those.length;
    console.log(
      `| ${decile * 10}–${decile * 10 + 10} % | ${those.length} | ${(100 * share).toFixed(1)} % | ${(100 * right).toFixed(1)} % |`,
    );
  }
  console.log(
    '\n| fault | cases | first | first three | tests | textbook tests | seeds outside the first three |\n|---|---|---|---|---|---|---|',
  );
  const sorts = [...new Set(all.map(({ sort }) => sort))];
  const bySort = sorts.map((sort) => [sort, all.filter((one) => one.sort === sort)] as const);
  for (const [sort, those] of bySort.sort((a, b) => b[1].length - a[1].length)) {
    const share = (places: number) => `${((100 * those.filter(within(places)).length) / those.length).toFixed(0)} %`;
    const mean = (pick: (one: Outcome) => number) => (those.reduce((sum, one) => sum + pick(one), 0) / those.length).toFixed(1);
    const lost = those.filter((one) => !within(3)(one)).map(({ seed }) => seed);
    const some = `${lost.slice(0, 8).join(' ')}${lost.length > 8 ? ' …' : ''}`;
    console.log(
      `| ${sort} | ${those.length} | ${share(1)} | ${share(3)} | ${mean((one) => one.tests)} | ${mean((one) => one.textbook.tests)} | ${some} |`,
    );
  }
  console.log('');
}
