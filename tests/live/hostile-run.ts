/** Many hostile frames at one page, while another client of it works on. */
import * as Y from 'yjs';
import { Connection } from '@/lib/live/connection';
import { applyLoaded } from '@/lib/live/loaded';
import { closeBadMessage } from '@/lib/live/protocol';
import { Rooms } from '@/lib/live/rooms';
import { FakeLog, random, syncFrame } from './helpers';
import { mutate, PaperSocket, seedsOfFrames } from './hostile-frames';

export interface FuzzFigures {
  refused: number;
  taken: number;
  /** Most time of the processor that one frame took, ms. */
  slowestMs: number;
  faults: string[];
}

const unbound = { unsavedBytes: () => 0, afford: () => true };

/** Stops at the first frame that does harm. */
export async function fuzz(seed: number, frames: number): Promise<FuzzFigures> {
  const r = random(seed);
  const seeds = seedsOfFrames();
  const log = new FakeLog('page');
  const rooms = new Rooms({ log, onCommitted() {}, idleMs: 60_000, restMs: 60_000 });
  const honest = new Y.Doc();
  const join = async (member: string) => {
    const room = await rooms.hold('page');
    const socket = new PaperSocket();
    const connection = new Connection(socket as never, socket as never, {} as never, 'page', { id: member, name: member }, true, unbound);
    connection.enter(room);
    return { socket, room, connection };
  };
  const ben = await join('ben');
  const figures: FuzzFigures = { refused: 0, taken: 0, slowestMs: 0, faults: [] };
  let hostile = await join('ada');
  for (let i = 0; i < frames && figures.faults.length === 0; i++) {
    const harm = (what: string) => figures.faults.push(`seed ${seed}, frame ${i}: ${what}`);
    if (hostile.socket.closed !== null || i % 150 === 0) {
      hostile.connection.leave();
      hostile = await join('ada');
    }
    const frame = mutate(r, seeds);
    const before = process.cpuUsage();
    hostile.socket.receive(frame);
    const used = process.cpuUsage(before); // not the clock: other processes share the machine
    figures.slowestMs = Math.max(figures.slowestMs, (used.user + used.system) / 1000);
    if (hostile.socket.closed === null) figures.taken++;
    else {
      figures.refused++;
      if (hostile.socket.closed !== closeBadMessage) harm(`closed with ${hostile.socket.closed}: ${[...frame]}`);
    }
    if (i % 100 === 0) {
      const vector = Y.encodeStateVector(honest);
      honest.getMap('widget:honest').set(String(i), i);
      ben.socket.receive(syncFrame(2, Y.encodeStateAsUpdate(honest, vector)));
      ben.socket.flush();
    }
    if (ben.socket.closed !== null) harm(`harmed another: ${[...frame]}`);
  }
  await rooms.committer.drained();
  const loaded = new Y.Doc();
  applyLoaded(loaded, await log.load('page'));
  const same = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b);
  if (!same(loaded.getMap('widget:honest').toJSON(), honest.getMap('widget:honest').toJSON()))
    figures.faults.push(`seed ${seed}: honest work is lost`);
  if (loaded.store.pendingStructs) figures.faults.push(`seed ${seed}: the log has a gap`);
  if (!Y.equalSnapshots(Y.snapshot(loaded), Y.snapshot(ben.room.doc))) figures.faults.push(`seed ${seed}: the log is not what people see`);
  await rooms.close();
  return figures;
}
