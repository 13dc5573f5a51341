/**
 * People typing in one document at the same time, as published: typed again through windows, server and log it ends in the recorded
 * text, which nobody here wrote. The histories (CC BY 4.0, by Seph Gentle, from josephg/editing-traces) are no part of the project: where
 * they are absent there is nothing to test, and the name of the test says so.
 */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { afterEach, expect, it } from 'vitest';
import * as Y from 'yjs';
import { applyLoaded } from '@/lib/live/loaded';
import { FakeLog, type House, startHouse, until } from './helpers';

interface Transaction {
  parents: number[];
  agent: number;
  patches: [at: number, deleted: number, inserted: string][];
}
interface History {
  endContent: string;
  numAgents: number;
  txns: Transaction[];
}

const folder = join(import.meta.dirname, '../../../shared/data');
const names = ['friendsforever', 'clownschool'];
const file = (name: string) => join(folder, `two-writers-${name}.json.gz`);
const there = names.filter((name) => existsSync(file(name)));
const stretch = 200; // transactions that travel together

let house: House | null = null;
afterEach(() => house?.stop());

if (there.length === 0) it('the published histories are not here: nothing was tested', () => {});
else
  it.each(there)(
    '%s ends in the recorded text: in both windows, in the log, and for who opens it later',
    { timeout: 120_000 },
    async (name) => {
      const { endContent, numAgents, txns } = JSON.parse(gunzipSync(readFileSync(file(name))).toString('utf8')) as History;
      const log = new FakeLog('page');
      house = await startHouse(log);
      const windows = Array.from({ length: numAgents }, (_, agent) => house!.open('page', ['ada', 'ben', 'cleo'][agent]!));
      await until('open', () => windows.every((w) => w.everSynced()));

      // What each sees when typing is exactly what the history says it saw: a document of its own, which windows send on.
      const desks = windows.map((_, agent) => {
        const doc = new Y.Doc();
        doc.clientID = agent + 1;
        return { doc, seen: new Set<number>(), last: -1 };
      });
      const updates: Uint8Array[] = [];
      const see = (desk: (typeof desks)[number], index: number) => {
        const missing: number[] = [];
        for (const queue = [index]; queue.length > 0; ) {
          const next = queue.pop()!;
          if (desk.seen.has(next)) continue;
          desk.seen.add(next);
          missing.push(next);
          queue.push(...txns[next]!.parents);
        }
        for (const each of missing.sort((a, b) => a - b)) Y.applyUpdate(desk.doc, updates[each]!);
      };
      const send = () => {
        for (const [agent, { doc }] of desks.entries()) {
          const { doc: shown } = windows[agent]!;
          Y.applyUpdate(shown, Y.encodeStateAsUpdate(doc, Y.encodeStateVector(shown)));
        }
      };
      for (const [index, { parents, agent, patches }] of txns.entries()) {
        const desk = desks[agent]!;
        for (const parent of parents) see(desk, parent);
        // Nobody here can forget what was seen: the history must not ask for that.
        expect(desk.last === -1 || desk.seen.has(desk.last)).toBe(true);
        const before = Y.encodeStateVector(desk.doc);
        const text = desk.doc.getText('text');
        desk.doc.transact(() => {
          for (const [at, deleted, inserted] of patches) {
            if (deleted) text.delete(at, deleted);
            if (inserted) text.insert(at, inserted);
          }
        });
        updates.push(Y.encodeStateAsUpdate(desk.doc, before));
        desk.seen.add(index);
        desk.last = index;
        if (index % stretch === 0) {
          send();
          await new Promise((resolve) => setImmediate(resolve));
        }
      }
      send();

      await until(
        'all saved',
        () => windows.every((w) => w.saved.getSnapshot().state === 'saved' && w.saved.getSnapshot().kept === 0),
        60_000,
      );
      await until('alike', () => windows.every((w) => w.doc.getText('text').length === endContent.length), 60_000);
      for (const window of windows) expect(window.doc.getText('text').toString()).toBe(endContent);
      const later = new Y.Doc();
      applyLoaded(later, await log.load('page'));
      expect(later.getText('text').toString()).toBe(endContent);
      for (const window of windows) window.close();
    },
  );
