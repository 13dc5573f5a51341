/** Ours and the bare server under one load, in turns. */
import { newPageDoc } from '@/lib/notebook/content';
import { createPage } from '@/lib/store/pages';
import { figure, median } from './figure';
import { openSocket, percentile, reader, type Served, serve, typing } from './live-writer';

const writers = 50;
/** Many short ones, and who goes first changes: from one minute to the next this kind of machine is up to three times as slow. */
const rounds = 8;

export const newPage = async () =>
  (
    await createPage({
      machineId: null,
      member: null,
      update: newPageDoc({ doc: { type: 'doc', content: [{ type: 'paragraph' }] }, widgets: {} }),
    })
  ).id;

interface Run {
  /** From sending to applied at another client, ms, each letter. */
  latencies: number[];
  seconds: number; // from the first sent to the last applied
}

/** All writers type on one page; a reader applies what comes. `perSecond` letters of each writer, or all at once. */
async function typeTogether({ port }: Served, page: string, letters: number, perSecond: number | null): Promise<Run> {
  const hands = Array.from({ length: writers }, () => ({ ...typing(letters), at: [] as number[], done: 0 }));
  const byClient = new Map(hands.map((hand) => [hand.client, hand]));
  const latencies: number[] = [];
  const all = writers * letters;
  let arrived = 0;
  let finish = () => {};
  const over = new Promise<void>((resolve) => {
    finish = resolve;
  });
  const hear = reader((client, clock) => {
    const hand = byClient.get(client);
    if (!hand) return;
    const now = performance.now();
    for (; hand.done < letters && (hand.clocks[hand.done] ?? 0) <= clock; hand.done++, arrived++)
      latencies.push(now - (hand.at[hand.done] ?? now));
    if (arrived === all) finish();
  });
  const watcher = await openSocket(port, page, 'watcher', hear);
  const clients = await Promise.all(hands.map((_, n) => openSocket(port, page, `writer${n}`)));
  const began = performance.now();
  const send = (n: number, letter: number) => {
    const hand = hands[n];
    const frame = hand?.frames[letter];
    if (!hand || !frame) return;
    hand.at[letter] = performance.now();
    clients[n]?.socket.send(frame);
  };
  if (perSecond === null) for (let letter = 0; letter < letters; letter++) for (let n = 0; n < writers; n++) send(n, letter);
  else {
    // Each letter has its moment, whether the server keeps up or not; writers are spread over the interval.
    const due = Array.from({ length: all }, (_, k) => ({
      at: ((Math.floor(k / writers) + (k % writers) / writers) * 1000) / perSecond,
      n: k % writers,
      letter: Math.floor(k / writers),
    }));
    for (const { at, n, letter } of due) {
      while (performance.now() - began < at) await new Promise((resolve) => setTimeout(resolve, 1)); // not by spinning: the servers need the processor
      send(n, letter);
    }
  }
  await over;
  const seconds = (performance.now() - began) / 1000;
  for (const client of [watcher, ...clients]) client.close();
  return { latencies, seconds };
}

async function inTurns(connection: string, letters: number, perSecond: number | null): Promise<{ plain: Run[]; ours: Run[] }> {
  const runs: { plain: Run[]; ours: Run[] } = { plain: [], ours: [] };
  const [plain, ours] = [await serve('live-plain'), await serve('live-ours', [connection])];
  for (let round = 0; round <= rounds; round++) {
    const page = await newPage();
    const order = [
      { served: plain, into: runs.plain },
      { served: ours, into: runs.ours },
    ];
    for (const { served, into } of round % 2 ? order : order.reverse()) {
      const run = await typeTogether(served, page, letters, perSecond);
      if (round > 0) into.push(run); // the first is for warming up
    }
  }
  await plain.kill();
  await ours.kill();
  return runs;
}

export async function benchDelivery(connection: string) {
  for (const perSecond of [4, 10]) {
    const { plain, ours } = await inTurns(connection, perSecond * 2, perSecond);
    const at = (runs: Run[], p: number) =>
      percentile(
        runs.flatMap((run) => run.latencies),
        p,
      );
    for (const [p, bar] of [
      [50, 1.15],
      [99, 1.5],
    ] as const) {
      const what = `delivery, ${writers} writers of ${perSecond} letters/s, p${p}`;
      figure('live', `${what}: bare server`, at(plain, p), 'ms');
      figure('live', `${what}: ours`, at(ours, p), 'ms');
      figure('live', `${what}: ours / bare`, at(ours, p) / at(plain, p), '×', bar);
    }
  }
}

export async function benchThroughput(connection: string) {
  const letters = 300;
  const { plain, ours } = await inTurns(connection, letters, null);
  const rate = (runs: Run[]) => median(runs.map((r) => (writers * letters) / r.seconds));
  figure('live', `throughput, ${writers} writers at once: bare server`, rate(plain), 'letters/s');
  figure('live', `throughput, ${writers} writers at once: ours`, rate(ours), 'letters/s');
  figure('live', 'throughput: ours / bare', rate(ours) / rate(plain), '×', 0.9, 'at least');
}
