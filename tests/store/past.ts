/** Pages with a past, for tests: edits by several people whose replicas meet now and then, with a reference of every point. */
import * as Y from 'yjs';
import { newId } from '@/lib/notebook/ids';
import type { Database } from '@/lib/store/database';
import { page, user } from '@/lib/store/schema';

export interface Written {
  update: Uint8Array;
  member: string | null;
}

/** Small whole numbers from a seed, the same at every run (Lehmer generator, modulus 2³¹ − 1, multiplier 48271). */
export function dice(seed: number) {
  let state = (seed % 2147483646) + 1;
  return (below: number) => {
    state = (state * 48271) % 2147483647;
    return state % below;
  };
}

/** What a page says, in a form that can be compared: its paragraphs with marks, and the state of a widget. */
export const said = (doc: Y.Doc) => ({
  prose: doc.getXmlFragment('prose').toString(),
  text: doc.getText('text').toDelta(),
  widget: doc.getMap('widget:a').toJSON(),
});

function edit(doc: Y.Doc, roll: (below: number) => number) {
  const prose = doc.getXmlFragment('prose');
  const text = doc.getText('text');
  const kind = roll(7);
  if (kind === 0 || prose.length === 0) {
    const block = new Y.XmlElement(`p${roll(3)}`);
    block.insert(0, [new Y.XmlText(`block ${roll(1000)}`)]);
    prose.insert(roll(prose.length + 1), [block]);
  } else if (kind === 1) prose.delete(roll(prose.length), 1);
  else if (kind === 2) {
    const block = prose.get(roll(prose.length));
    const inner = block instanceof Y.XmlElement ? block.get(0) : null;
    if (inner instanceof Y.XmlText) inner.insert(roll(inner.length + 1), `word ${roll(100)} `);
  } else if (kind === 3 && text.length > 3) text.delete(roll(text.length - 2), 2);
  else if (kind === 4 && text.length > 3) text.format(roll(text.length - 2), 2, { bold: roll(2) === 0 ? true : null });
  else if (kind === 5) doc.getMap('widget:a').set(`key${roll(4)}`, roll(50));
  else text.insert(roll(text.length + 1), `t${roll(1000)}`);
}

/** `count` entries by the given members, who write at the same time and hear of each other now and then. */
export function writeEntries(members: (string | null)[], count: number, seed: number): Written[] {
  const roll = dice(seed);
  const house = new Y.Doc(); // what the log has
  const replicas = members.map(() => new Y.Doc());
  // A Y.Doc takes its own id by chance; ids decide the order of concurrent text.
  for (const [at, doc] of replicas.entries()) doc.clientID = seed * 16 + at + 1;
  const entries: Written[] = [];
  house.on('update', (update: Uint8Array, origin: unknown) => entries.push({ update, member: origin as string | null }));
  let at = 0;
  while (entries.length < count) {
    if (roll(4) === 0) at = roll(members.length);
    const doc = replicas[at]!;
    if (roll(3) === 0) Y.applyUpdate(doc, Y.encodeStateAsUpdate(house, Y.encodeStateVector(doc)));
    for (let n = roll(3) + 1; n > 0; n--) edit(doc, roll);
    // Of what is tidied after it the house is the writer, as in a room: it comes as an entry of its own.
    Y.applyUpdate(house, Y.encodeStateAsUpdate(doc, Y.encodeStateVector(house)), members[at]);
  }
  return entries.slice(0, count);
}

/** What the page says at each number, by applying the entries one after the other to one document. */
export function reference(entries: Written[]) {
  const doc = new Y.Doc();
  return [
    said(doc),
    ...entries.map(({ update }) => {
      doc.transact(() => Y.applyUpdate(doc, update));
      return said(doc);
    }),
  ];
}

export async function makeMembers(db: Database, ...ids: string[]) {
  for (const id of ids) await db.insert(user).values({ id, name: `Name of ${id}`, email: `${id}@club.example`, role: 'editor' });
}

export async function makePage(db: Database, id = newId()): Promise<string> {
  await db.insert(page).values({ id, day: '2025-11-08' });
  return id;
}
