/** Unique marks in a page: what was written, what its writer was told is saved, and what the log has of it. */
import * as Y from 'yjs';
import { contentRoot, widgetRoot } from '@/lib/live/protocol';
import type { random } from '../live/helpers';

type Random = ReturnType<typeof random>;

/**
 * One mark: `written` may be there or not, `saved` must be there exactly once. `erasing` may be there or not, `erased` must not:
 * a removal makes nothing new that a state vector would show.
 */
export type Fate = 'written' | 'saved' | 'erasing' | 'erased';

export class Marks {
  readonly fates = new Map<string, Fate>();

  /** How many changes were acknowledged: a mark that is there, or a mark that is gone. */
  get acknowledged() {
    let count = 0;
    for (const fate of this.fates.values()) count += fate === 'written' ? 0 : fate === 'erased' ? 2 : 1;
    return count;
  }

  /** Compares with how often each mark stands in the page. Returns one sentence for each mark that is not as its writer was told. */
  faults(found: ReadonlyMap<string, number>): string[] {
    const faults: string[] = [];
    for (const [mark, fate] of this.fates) {
      const times = found.get(mark) ?? 0;
      if (fate === 'saved' && times === 0) faults.push(`${mark} was acknowledged and is lost`);
      if (fate === 'erased' && times > 0) faults.push(`the removal of ${mark} was acknowledged and is lost`);
      if (times > 1) faults.push(`${mark} is there ${times} times`);
    }
    for (const mark of found.keys()) if (!this.fates.has(mark)) faults.push(`${mark} was never written`);
    return faults;
  }
}

const pattern = /\[([\w-]+)\]/g;
const widget = widgetRoot('marks');

/** Writes a mark: into a line of text, as a paragraph of its own, or into a widget. */
export function writeMark(doc: Y.Doc, mark: string, r: Random) {
  const text = `[${mark}]`;
  const root = doc.getXmlFragment(contentRoot);
  const way = r.below(5);
  if (way === 0) {
    doc.getMap(widget).set(mark, text);
    return;
  }
  doc.transact(() => {
    const line = root.length && way > 1 ? textOf(root.get(r.below(root.length)) as Y.XmlElement) : null;
    if (line) {
      line.insert(gap(line, r), text, way === 2 ? { bold: true } : {});
      return;
    }
    const paragraph = new Y.XmlElement('paragraph');
    paragraph.insert(0, [new Y.XmlText(text)]);
    root.insert(r.below(root.length + 1), [paragraph]);
  });
}

const textOf = (paragraph: Y.XmlElement) => (paragraph.length ? (paragraph.get(0) as Y.XmlText) : null);
const plain = (text: Y.XmlText) =>
  text
    .toDelta()
    .map((part: { insert: string }) => part.insert)
    .join('');

/** A place in the line that is not inside a mark. */
function gap(line: Y.XmlText, r: Random): number {
  const places = [0];
  for (const { index, 0: whole } of plain(line).matchAll(pattern)) places.push(index + whole.length);
  return r.pick(places);
}

/** Removes a mark; false when it is not there. */
export function eraseMark(doc: Y.Doc, mark: string): boolean {
  const marks = doc.getMap(widget);
  if (marks.has(mark)) {
    marks.delete(mark);
    return true;
  }
  for (const paragraph of doc.getXmlFragment(contentRoot).toArray() as Y.XmlElement[]) {
    const line = textOf(paragraph);
    const at = line ? plain(line).indexOf(`[${mark}]`) : -1;
    if (!line || at < 0) continue;
    line.delete(at, mark.length + 2);
    return true;
  }
  return false;
}

/** How often each mark stands in the page. */
export function marksIn(doc: Y.Doc): Map<string, number> {
  const found = new Map<string, number>();
  const note = (mark: string) => found.set(mark, (found.get(mark) ?? 0) + 1);
  for (const paragraph of doc.getXmlFragment(contentRoot).toArray() as Y.XmlElement[]) {
    const line = textOf(paragraph);
    for (const [, mark] of line ? plain(line).matchAll(pattern) : []) note(mark ?? '');
  }
  for (const value of doc.getMap<string>(widget).values()) for (const [, mark] of value.matchAll(pattern)) note(mark ?? '');
  return found;
}
