/** Edits a shared text in place: only the words and marks that differ are touched. */
import type * as Y from 'yjs';
import { align } from '../differences/align';
import { canonical } from '../differences/canonical';
import { tokensOf } from '../differences/tokens';
import { type Stretch, stretchesOf } from './pieces';

/** Makes the text read as the stretches do, marks included. */
export function writeText(text: Y.XmlText, wanted: readonly Stretch[]) {
  const have = stretchesOf(text);
  if (textOf(have).length !== text.length) text.delete(0, text.length); // something is embedded that no editor of ours writes
  writeWords(text, textOf(stretchesOf(text)), textOf(wanted));
  writeMarks(text, wanted);
}

const textOf = (stretches: readonly Stretch[]): string => stretches.map(({ insert }) => insert).join('');

function writeWords(text: Y.XmlText, before: string, after: string) {
  const [from, to] = [tokensOf(before), tokensOf(after)]; // no token parts a character that takes two units: that would destroy it
  let at = 0;
  for (const { before: b, after: a, same } of align(from, to, () => 0)) {
    const token = (a === null ? from[b ?? -1] : to[a]) ?? '';
    if (same) at += token.length;
    else if (a === null) text.delete(at, token.length);
    else {
      text.insert(at, token);
      at += token.length;
    }
  }
}

/** The words agree already; their marks are compared stretch by stretch. */
function writeMarks(text: Y.XmlText, wanted: readonly Stretch[]) {
  const have = stretchesOf(text);
  const cuts = [...new Set([...endsOf(have), ...endsOf(wanted)])].sort((a, b) => a - b);
  let from = 0;
  for (const to of cuts) {
    const [now, then] = [marksAt(have, from), marksAt(wanted, from)];
    const change: Record<string, unknown> = {};
    for (const name of Object.keys(now)) if (!Object.hasOwn(then, name)) change[name] = null;
    for (const [name, value] of Object.entries(then)) if (canonical(now[name]) !== canonical(value)) change[name] = value;
    if (Object.keys(change).length > 0) text.format(from, to - from, change);
    from = to;
  }
}

function endsOf(stretches: readonly Stretch[]): number[] {
  let end = 0;
  return stretches.map(({ insert }) => (end += insert.length));
}

function marksAt(stretches: readonly Stretch[], place: number): Record<string, unknown> {
  let end = 0;
  for (const { insert, attributes } of stretches) {
    end += insert.length;
    if (place < end) return attributes ?? {};
  }
  return {};
}
