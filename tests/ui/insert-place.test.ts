/** Where the add button puts a widget. */
import { Fragment, Node, Slice } from '@tiptap/pm/model';
import { NodeSelection, TextSelection } from '@tiptap/pm/state';
import { expect, test } from 'vitest';
import { schema } from '@/lib/notebook/schema';
import { insertPlace } from '@/lib/ui/editor/insert-place';

const text = (words: string) => ({ type: 'text', text: words });
const title = { type: 'heading', attrs: { level: 1 }, content: [text('Spinner is dead')] };
const entry = { type: 'heading', attrs: { level: 2 }, content: [text('Complaint')] };
const blank = { type: 'paragraph' };
const said = { type: 'paragraph', content: [text('It misses')] };
const list = { type: 'bulletList', content: [{ type: 'listItem', content: [said] }] };
const widget = { type: 'widget', attrs: { id: 'a', kind: 'fix-record' } };
const page = (...content: object[]) => Node.fromJSON(schema, { type: 'doc', content });

/** The words of the top blocks, `+` where the widget goes, in place of what it replaces. */
function put(doc: Node, caret: number): string[] {
  const { from, to } = insertPlace(doc, TextSelection.create(doc, caret));
  const added = schema.node('widget', { id: 'new', kind: 'x' });
  const after = doc.replace(from, to, new Slice(Fragment.from(added), 0, 0));
  after.check();
  return after.content.content.map((node) => (node.attrs.id === 'new' ? '+' : node.textContent || node.type.name));
}

test('a page nobody has touched: never before its title, but in its last blank, else at its end', () => {
  expect(put(page(title, entry, blank, widget, blank, widget), 1)).toEqual([
    'Spinner is dead',
    'Complaint',
    'paragraph',
    'widget',
    '+',
    'widget',
  ]);
  expect(put(page(title, said), 1)).toEqual(['Spinner is dead', 'It misses', '+']);
});

test('after what is being written, never into the middle of it', () => {
  const doc = page(title, said, list, said);
  const inWord = (title.content[0]?.text.length ?? 0) + 2 + 4;
  expect(put(doc, inWord)).toEqual(['Spinner is dead', 'It misses', '+', 'It misses', 'It misses']);
  expect(put(doc, inWord + 14)).toEqual(['Spinner is dead', 'It misses', 'It misses', '+', 'It misses']);
});

test('a blank paragraph gives way, a chosen widget stays', () => {
  expect(put(page(title, blank, said), 18)).toEqual(['Spinner is dead', '+', 'It misses']);
  const doc = page(title, widget, said);
  expect(insertPlace(doc, NodeSelection.create(doc, 17))).toEqual({ from: 18, to: 18 });
});
