/** Shared elements as plain data that keeps what the document keeps: marks under their own names, texts apart. */
import * as Y from 'yjs';
import { canonical } from '../differences/canonical';

export interface Stretch {
  insert: string;
  attributes?: Record<string, unknown>;
}
export interface TextPiece {
  kind: 'text';
  key: string; // equal for pieces that read alike
  delta: Stretch[];
}
export interface ElementPiece {
  kind: 'element';
  key: string;
  name: string;
  attrs: Record<string, unknown>;
  children: Piece[];
}
export type Piece = TextPiece | ElementPiece;

const deepest = 100; // as deep as `contentOf` reads

/** What a shared item says; null for what no editor of ours writes. */
export function pieceOf(item: unknown, depth = 1): Piece | null {
  if (item instanceof Y.XmlText) {
    const delta = stretchesOf(item);
    return { kind: 'text', key: textKey(delta), delta };
  }
  if (!(item instanceof Y.XmlElement) || item instanceof Y.XmlHook) return null;
  const attrs: Record<string, unknown> = { ...item.getAttributes() };
  const children = depth < deepest ? item.toArray().flatMap((child) => pieceOf(child, depth + 1) ?? []) : [];
  return { kind: 'element', key: elementKey(item.nodeName, attrs, children), name: item.nodeName, attrs, children };
}

/** The words of a shared text with their marks; what is embedded in it is left out. */
export const stretchesOf = (text: Y.XmlText): Stretch[] =>
  (text.toDelta() as { insert: unknown; attributes?: Record<string, unknown> }[]).flatMap(({ insert, attributes }) =>
    typeof insert === 'string' && insert !== ''
      ? [{ insert, ...(attributes && Object.keys(attributes).length > 0 && { attributes }) }]
      : [],
  );

const textKey = (delta: readonly Stretch[]): string =>
  joined(delta)
    .map(({ insert, marks }) => `${JSON.stringify(insert)}${marks}`)
    .join(); // prettier-ignore

/** Neighbouring texts read as one, so that one that was parted by a merge equals one that was not. */
function elementKey(name: string, attrs: Record<string, unknown>, children: readonly Piece[]): string {
  const parts: string[] = [];
  let run: Stretch[] = [];
  const settle = () => {
    if (run.length > 0) parts.push(textKey(run));
    run = [];
  };
  for (const child of children) {
    if (child.kind === 'text') run.push(...child.delta);
    else {
      settle();
      parts.push(child.key);
    }
  }
  settle();
  return `${name}${canonical(attrs)}(${parts.join()})`;
}

function joined(delta: readonly Stretch[]): { insert: string; marks: string }[] {
  const whole: { insert: string; marks: string }[] = [];
  for (const { insert, attributes } of delta) {
    const marks = canonical(attributes ?? {});
    const last = whole.at(-1);
    if (last?.marks === marks) last.insert += insert;
    else whole.push({ insert, marks });
  }
  return whole;
}
