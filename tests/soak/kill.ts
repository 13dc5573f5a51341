/**
 * Servers and databases are killed at random moments while people write. What a writer was told is saved must be in the log, read from
 * the database before anybody who still has it comes back; afterwards everybody must come to the same page.
 *
 *   npm run soak -- kill [rounds] [seed]      DATABASE_URL adds rounds on that server, in a database made for them
 */
import * as Y from 'yjs';
import { random } from '../live/helpers';
import { makePages, readPages } from './log-check';
import { builtInStage, type Stage, sharedStage } from './stage';
import { Marks, marksIn } from './tokens';
import { allSaved, comes, sleep } from './window';
import { Writer } from './writer';

const pageCount = 3;
const writersOfPage = 2;
const roundsOfPages = 20; // then fresh pages, so that a round stays a round
const syncLimitMs = 30_000;

export interface KillFigures {
  rounds: number;
  acknowledged: number;
  kills: Record<Kill, number>;
  faults: string[];
  longestReturnMs: number; // from the last kill until everybody has everything
}
type Kill = 'server' | 'one of two servers' | 'postmaster' | 'all of the database' | 'server and database' | 'starting server';

/** What dies in a round: seeded. */
function chooseKill(stage: Stage, r: ReturnType<typeof random>): Kill {
  const kills: Kill[] = ['server', 'server'];
  if (stage.nodes.length > 1) kills.push('one of two servers', 'one of two servers');
  if (stage.mortal) kills.push('postmaster', 'all of the database', 'server and database');
  return r.pick(kills);
}

async function carryOut(kill: Kill, stage: Stage, r: ReturnType<typeof random>) {
  if (kill === 'server') await Promise.all(stage.nodes.map((node) => node.kill()));
  if (kill === 'one of two servers') await r.pick(stage.nodes).kill();
  if (kill === 'postmaster') await stage.killDatabase(false);
  if (kill === 'all of the database') await stage.killDatabase(true);
  if (kill === 'server and database') await Promise.all([...stage.nodes.map((node) => node.kill()), stage.killDatabase(true)]);
}

/** Pages with their writers and marks. */
interface Crowd {
  pages: string[];
  marks: Map<string, Marks>;
  writers: Writer[];
}

async function gather(stage: Stage, name: string, r: ReturnType<typeof random>): Promise<Crowd> {
  const pages = Array.from({ length: pageCount }, (_, i) => `${name}-page-${i}`);
  const seats = pages.flatMap((page, p) => Array.from({ length: writersOfPage }, (_, w) => ({ page, w, name: `w${p}${w}` })));
  await makePages(
    stage.connection(),
    pages,
    seats.map((seat) => seat.name),
  );
  const marks = new Map(pages.map((page) => [page, new Marks()]));
  const writers = seats.map((seat) => {
    const { url } = stage.nodes[seat.w % stage.nodes.length]!;
    return new Writer(seat.name, seat.page, url, marks.get(seat.page)!, r);
  });
  return { pages, marks, writers };
}

/** Compares the log with what the writers were told. */
async function check(stage: Stage, { pages, marks }: Crowd, when: string): Promise<string[]> {
  const read = await readPages(stage.connection(), pages);
  return pages.flatMap((page) => {
    const { doc, faults } = read.get(page)!;
    return [...faults, ...marks.get(page)!.faults(marksIn(doc))].map((fault) => `${when}, page ${page}: ${fault}`);
  });
}

/** One round. Returns what was wrong. */
async function round(stage: Stage, crowd: Crowd, r: ReturnType<typeof random>, kills: Record<Kill, number>) {
  const { writers } = crowd;
  for (const writer of writers) writer.start();
  await sleep(150 + r.below(900));
  const kill = chooseKill(stage, r);
  kills[kill]++;
  // Those who come back at once would bring along what the log had lost: in most rounds they are kept out until it has been read.
  const strict = kill !== 'one of two servers';
  await carryOut(kill, stage, r);
  const died = performance.now();
  const faults: string[] = [];
  if (strict) {
    for (const writer of writers) writer.disconnect();
    const cutShort = r.below(4) === 0 ? r.below(900) : undefined;
    if (cutShort !== undefined && kill !== 'postmaster') kills['starting server']++;
    await Promise.all([...writers.map((writer) => writer.stop()), stage.revive(cutShort)]);
    faults.push(...(await check(stage, crowd, `after ${kill}`)));
    for (const writer of writers) {
      const url = r.pick(stage.nodes).url;
      if (r.below(2)) writer.replace(url);
      else writer.connect(url);
    }
  } else {
    const living = stage.nodes.find((node) => node.running())!;
    for (const writer of writers) writer.connect(living.url);
    await sleep(r.below(400));
    for (const writer of writers) if (r.below(4) === 0) writer.replace(living.url);
    await Promise.all([...writers.map((writer) => writer.stop()), stage.revive()]);
  }
  if (!(await comes(() => writers.every(({ window }) => window.everSynced() && allSaved(window)), syncLimitMs))) {
    const states = writers.map(({ name, window }) => `${name} ${JSON.stringify(window.saved.getSnapshot())}`);
    faults.push(`after ${kill}: not everybody came back: ${states.join(', ')}`);
  }
  const returnMs = performance.now() - died;
  if (faults.length) return { faults, returnMs };
  faults.push(...(await alike(stage, crowd, kill)));
  return { faults, returnMs };
}

/** Everybody on a page sees what the log has. A server that outlived the kill may still be writing what it had from windows that are gone. */
async function alike(stage: Stage, crowd: Crowd, kill: Kill): Promise<string[]> {
  const faults = await check(stage, crowd, `when all were back after ${kill}`);
  const end = performance.now() + syncLimitMs;
  for (;;) {
    const read = await readPages(stage.connection(), crowd.pages);
    const others = crowd.writers.flatMap(({ name, page, window }) => {
      const difference = between(window.doc, read.get(page)!.doc);
      return difference ? [`after ${kill}: ${name} on ${page} ${difference}`] : [];
    });
    if (others.length === 0) return faults;
    if (performance.now() > end) return [...faults, ...others];
    await sleep(50);
  }
}

/** How a window's page differs from the log's; null when it does not. */
function between(window: Y.Doc, stored: Y.Doc): string | null {
  const [seen, kept] = [window, stored].map((doc) => new Set([...marksIn(doc)].map(([mark, times]) => `${mark} ${times}`))) as [
    Set<string>,
    Set<string>,
  ];
  const lacks = [...kept].filter((mark) => !seen.has(mark));
  const more = [...seen].filter((mark) => !kept.has(mark));
  if (lacks.length + more.length > 0) return `lacks ${lacks.length} marks of the log and has ${more.length} that it does not have`;
  return Y.equalSnapshots(Y.snapshot(window), Y.snapshot(stored)) ? null : 'has the marks of the log in another document';
}

/** Kills and checks; stops at the first round with a fault. */
export async function killRounds(stage: Stage, rounds: number, seed: number, say: (line: string) => void = () => {}): Promise<KillFigures> {
  const r = random(seed);
  const kills: Record<Kill, number> = {
    server: 0,
    'one of two servers': 0,
    postmaster: 0,
    'all of the database': 0,
    'server and database': 0,
    'starting server': 0,
  };
  const figures: KillFigures = { rounds: 0, acknowledged: 0, kills, faults: [], longestReturnMs: 0 };
  const sum = (crowd: Crowd) => [...crowd.marks.values()].reduce((all, marks) => all + marks.acknowledged, 0);
  while (figures.rounds < rounds && figures.faults.length === 0) {
    const crowd = await gather(stage, `s${seed}r${figures.rounds}`, r);
    const before = figures.acknowledged;
    for (let n = 0; n < roundsOfPages && figures.rounds < rounds && figures.faults.length === 0; n++) {
      const { faults, returnMs } = await round(stage, crowd, r, kills);
      figures.rounds++;
      figures.acknowledged = before + sum(crowd);
      figures.longestReturnMs = Math.max(figures.longestReturnMs, returnMs);
      figures.faults.push(...faults.map((fault) => `seed ${seed}, round ${figures.rounds}: ${fault}`));
      if (figures.rounds % 10 === 0) say(`${stage.name}: ${figures.rounds} rounds, ${figures.acknowledged} acknowledged changes`);
    }
    for (const writer of crowd.writers) await writer.close();
  }
  return figures;
}

export async function main([rounds = '60', seed = String(Date.now() % 1_000_000)]: string[]): Promise<boolean> {
  const url = process.env.DATABASE_URL;
  const stages = [builtInStage, () => sharedStage(), ...(url ? [() => sharedStage(url)] : [])];
  let well = true;
  for (const [i, open] of stages.entries()) {
    const share = Math.ceil(Number(rounds) / stages.length);
    const stage = await open();
    console.log(`${stage.name}: ${share} rounds, seed ${Number(seed) + i}`);
    try {
      const { faults, kills, acknowledged, longestReturnMs, ...rest } = await killRounds(stage, share, Number(seed) + i, console.log);
      const lost = faults.filter((fault) => /lost/.test(fault)).length;
      console.log(JSON.stringify({ stage: stage.name, ...rest, acknowledged, lost, longestReturnMs: Math.round(longestReturnMs), kills }));
      for (const fault of faults.slice(0, 30)) console.error(fault);
      if (faults.length) for (const node of stage.nodes) console.error(`── a server printed:\n${node.output().slice(-4000)}`);
      well &&= faults.length === 0;
    } finally {
      await stage.close();
    }
  }
  return well;
}
