/**
 * Brings a page back to what it was, as one new change: nothing of its history is rewritten.
 *
 * Blocks that read alike stay the very same shared elements, so carets in them and what others write there at the same time survive.
 * A block that changed is edited in place, word by word, where its old form can be told; only the rest is taken out or put in.
 */
import * as Y from 'yjs';
import { contentRoot, widgetRoot } from '@/lib/live/protocol';
import { contentOf } from './content';
import { align } from './differences/align';
import { canonical } from './differences/canonical';
import { alike, shared, wordsOf } from './differences/tokens';
import { type ElementPiece, type Piece, pieceOf, type TextPiece } from './restore/pieces';
import { writeText } from './restore/text';

/**
 * Changes `doc` so that its content and the states of its widgets equal those of `past`, in one transaction; changes nothing where they
 * do. States of widgets that are not on the page of then are left as they are, since somebody may bring them back too.
 */
export function restoreInto(doc: Y.Doc, past: Y.Doc, origin: unknown = null): void {
  const wanted = past
    .getXmlFragment(contentRoot)
    .toArray()
    .flatMap((item) => pieceOf(item) ?? []); // prettier-ignore
  const { widgets } = contentOf(past);
  doc.transact(() => {
    writeChildren(doc.getXmlFragment(contentRoot), wanted);
    for (const [id, state] of Object.entries(widgets)) writeState(doc.getMap(widgetRoot(id)), state);
  }, origin);
}

function writeState(map: Y.Map<unknown>, state: Readonly<Record<string, unknown>>) {
  const plain = (value: unknown) => (value instanceof Y.AbstractType ? value.toJSON() : value);
  for (const key of [...map.keys()]) if (!Object.hasOwn(state, key)) map.delete(key);
  for (const [key, value] of Object.entries(state)) {
    if (!map.has(key) || canonical(plain(map.get(key))) !== canonical(value)) map.set(key, value);
  }
}

type Parent = Y.XmlFragment | Y.XmlElement;

/** Makes the children of a shared element read as the pieces do. */
function writeChildren(parent: Parent, wanted: readonly Piece[]) {
  const items = parent.toArray();
  const have = items.map((item) => pieceOf(item));
  const pairs = align(
    have.map((piece, k) => piece?.key ?? `not ours ${k}`), // what no editor of ours writes goes
    wanted.map(({ key }) => key),
    (b, a) => likeness(have[b] ?? null, wanted[a]!),
  );
  let at = 0;
  for (const { before, after, same } of pairs) {
    if (before === null) {
      if (after !== null) parent.insert(at++, [built(wanted[after]!)]);
    } else if (after === null) parent.delete(at, 1);
    else {
      if (!same) write(items[before], wanted[after]!);
      at++;
    }
  }
}

/** How surely one piece is a later form of the other. */
function likeness(before: Piece | null, after: Piece): number {
  if (!before) return 0;
  if (before.kind === 'text' || after.kind === 'text') return before.kind === after.kind ? 0.5 : 0;
  if (before.name !== after.name) return 0;
  if (before.name === 'widget') return before.attrs.id === after.attrs.id && before.attrs.kind === after.attrs.kind ? 1 : 0;
  const share = shared(wordsIn(before), wordsIn(after));
  return share >= alike ? share : 0;
}

const wordsIn = (piece: Piece): string[] =>
  piece.kind === 'text' ? wordsOf(piece.delta.map(({ insert }) => insert).join('')) : piece.children.flatMap(wordsIn);

function write(item: unknown, wanted: Piece) {
  if (item instanceof Y.XmlText && wanted.kind === 'text') writeText(item, wanted.delta);
  else if (item instanceof Y.XmlElement && wanted.kind === 'element') writeElement(item, wanted);
}

function writeElement(element: Y.XmlElement, { attrs, children }: ElementPiece) {
  const have: Record<string, unknown> = element.getAttributes();
  for (const name of Object.keys(have)) if (!Object.hasOwn(attrs, name)) element.removeAttribute(name);
  for (const [name, value] of Object.entries(attrs)) if (canonical(have[name]) !== canonical(value)) setAttribute(element, name, value);
  writeChildren(element, children);
}

// Attributes are typed as text, but the editor keeps numbers in them as numbers.
const setAttribute = (element: Y.XmlElement, name: string, value: unknown) => element.setAttribute(name, value as string);

function built(piece: Piece): Y.XmlElement | Y.XmlText {
  return piece.kind === 'text' ? builtText(piece) : builtElement(piece);
}

function builtText({ delta }: TextPiece): Y.XmlText {
  const text = new Y.XmlText();
  text.applyDelta([...delta]);
  return text;
}

function builtElement({ name, attrs, children }: ElementPiece): Y.XmlElement {
  const element = new Y.XmlElement(name);
  for (const [key, value] of Object.entries(attrs)) setAttribute(element, key, value);
  element.insert(0, children.map(built));
  return element;
}
