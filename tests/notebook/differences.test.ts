/** Differences between two states of a page: nothing invented, nothing left out. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isUnchanged, noContent, pageDifferences, sideOf, summaryOf, summaryWords } from '@/lib/notebook/differences';
import { align } from '@/lib/notebook/differences/align';
import { canonical } from '@/lib/notebook/differences/canonical';
import { wordRuns } from '@/lib/notebook/differences/inline';
import { tokensOf } from '@/lib/notebook/differences/tokens';
import { normalContent } from '@/lib/notebook/markdown/normal';
import { plainText } from '@/lib/notebook/prose';
import type { DocNode, PageContent } from '@/lib/notebook/types';
import { page } from './arbitrary';

const text = (words: string, ...marks: string[]): DocNode => ({
  type: 'text',
  text: words,
  ...(marks.length > 0 && { marks: marks.map((type) => ({ type })) }),
});
const paragraph = (...content: (string | DocNode)[]): DocNode => ({
  type: 'paragraph',
  content: content.map((each) => (typeof each === 'string' ? text(each) : each)),
});
const heading = (level: number, words: string): DocNode => ({ type: 'heading', attrs: { level }, content: [text(words)] });
const list = (...items: string[]): DocNode => ({
  type: 'bulletList',
  content: items.map((item) => ({ type: 'listItem', content: [paragraph(item)] })),
});
const widget = (id: string, kind = 'fix-record'): DocNode => ({ type: 'widget', attrs: { id, kind } });
const content = (blocks: DocNode[], widgets: PageContent['widgets'] = {}): PageContent => ({
  doc: { type: 'doc', content: blocks },
  widgets,
});
const between = (before: DocNode[], after: DocNode[]) => pageDifferences(content(before), content(after));
const changes = (before: DocNode[], after: DocNode[]) => between(before, after).map(({ change }) => change);

/** Neighbouring texts with the same marks as one. */
function legible(node: DocNode): DocNode {
  const inside: DocNode[] = [];
  for (const child of node.content ?? []) {
    const last = inside.at(-1);
    if (child.type === 'text' && last?.type === 'text' && canonical(last.marks ?? []) === canonical(child.marks ?? []))
      inside[inside.length - 1] = { ...last, text: `${last.text}${child.text}` };
    else inside.push(legible(child));
  }
  return { ...node, ...(node.content && { content: inside }) };
}

describe('any two pages', () => {
  it('a page does not differ from itself', () => {
    fc.assert(
      fc.property(page, (one) => {
        expect(isUnchanged(pageDifferences(one, structuredClone(one)))).toBe(true);
        expect(summaryWords(summaryOf(pageDifferences(one, one)))).toBe('nothing that shows');
      }),
      { numRuns: 100 },
    );
  });

  it('both sides can be put together again from what differs', () => {
    fc.assert(
      fc.property(page, page, (one, two) => {
        const [before, after] = [normalContent(one), normalContent(two)];
        const differences = pageDifferences(before, after);
        expect(legible(sideOf(differences, 'before'))).toEqual(legible(before.doc));
        expect(legible(sideOf(differences, 'after'))).toEqual(legible(after.doc));
        expect(plainText(sideOf(differences, 'after'))).toBe(plainText(after.doc));
        expect(plainText(sideOf(differences, 'before'))).toBe(plainText(before.doc));
      }),
      { numRuns: 200 },
    );
  });

  it('also where one grew out of the other by a few steps', () => {
    const step = fc.tuple(fc.nat(), fc.constantFrom('drop', 'twice', 'swap', 'words'));
    fc.assert(
      fc.property(page, fc.array(step, { minLength: 1, maxLength: 4 }), (one, steps) => {
        const before = normalContent(one);
        const blocks = [...(before.doc.content ?? [])];
        for (const [place, what] of steps) {
          const k = place % Math.max(1, blocks.length);
          const block = blocks[k];
          if (!block) continue;
          if (what === 'drop') blocks.splice(k, 1);
          else if (what === 'twice' && block.type !== 'widget') blocks.splice(k, 0, block);
          else if (what === 'swap') blocks.push(...blocks.splice(k, 1));
          else if (block.type === 'paragraph') blocks[k] = { ...block, content: [...(block.content ?? []), text(' more words')] };
        }
        const after = content(blocks, before.widgets);
        const differences = pageDifferences(before, after);
        expect(legible(sideOf(differences, 'before'))).toEqual(legible(before.doc));
        expect(legible(sideOf(differences, 'after'))).toEqual(legible(after.doc));
        const moved = (change: string) => differences.filter((d) => d.change === change).length;
        expect(moved('moved-here')).toBe(moved('moved-away'));
      }),
      { numRuns: 150 },
    );
  });

  it('a change of a widget’s state alone is a difference of that widget alone', () => {
    fc.assert(
      fc.property(page, fc.string({ minLength: 1, maxLength: 5 }), (one, value) => {
        const ids = Object.keys(one.widgets);
        fc.pre(ids.length > 0);
        const id = ids[0] ?? '';
        const after = { ...one, widgets: { ...one.widgets, [id]: { ...one.widgets[id], 'only.here': `new ${value}` } } };
        const flat = (differences: ReturnType<typeof pageDifferences>): string[] =>
          differences.flatMap((d) => (d.change === 'same' ? [] : d.blocks ? flat(d.blocks) : [`${d.change} ${d.widget?.id}`]));
        const found = flat(pageDifferences(one, after));
        expect(found).toEqual([`changed ${id}`]);
      }),
      { numRuns: 100 },
    );
  });
});

describe('blocks', () => {
  it('that came, went, stayed', () => {
    expect(changes([paragraph('one'), paragraph('two')], [paragraph('one'), paragraph('new words here'), paragraph('two')])).toEqual([
      'same',
      'added',
      'same',
    ]);
    expect(changes([paragraph('one'), paragraph('two')], [paragraph('two')])).toEqual(['removed', 'same']);
  });

  it('that were moved stand on both places and are no words of their own', () => {
    const [a, b, c] = [paragraph('the plug was warm'), paragraph('row six misses'), paragraph('crimped anew')];
    expect(changes([a, b, c], [b, c, a])).toEqual(['moved-away', 'same', 'same', 'moved-here']);
    expect(summaryWords(summaryOf(between([a, b, c], [b, c, a])))).toBe('1 block moved');
  });

  it('with changed words show the words, a space between two of them included', () => {
    const [only] = between(
      [paragraph('The spinner misses when the cabinet is cold.')],
      [paragraph('The spinner misses when the old cabinet was warm.')],
    );
    expect(only?.change).toBe('changed');
    expect(only?.runs?.map(({ change, node }) => `${change} ${node.text}`)).toEqual([
      'same The spinner misses when the ',
      'added old ',
      'same cabinet ',
      'removed is cold',
      'added was warm',
      'same .',
    ]);
  });

  it('with changed marks show the same words out and in', () => {
    const [only] = between([paragraph('the grey wire is loose')], [paragraph('the ', text('grey', 'bold'), ' wire is loose')]);
    expect(only?.runs?.filter(({ change }) => change !== 'same')).toEqual([
      { change: 'removed', node: text('grey') },
      { change: 'added', node: text('grey', 'bold') },
    ]);
    expect(summaryWords(summaryOf([only!]))).toBe('1 block laid out anew');
  });

  it('of another level say which they had', () => {
    const [only] = between([heading(2, 'What we found')], [heading(3, 'What we found')]);
    expect(only).toMatchObject({ change: 'changed', was: { level: 2 }, node: { attrs: { level: 3 } } });
  });

  it('that hold others are compared inside', () => {
    const [only] = between(
      [list('crimp row six', 'test it cold', 'close up')],
      [list('crimp row six', 'test it warm', 'close up', 'write it up')],
    );
    expect(only?.change).toBe('changed');
    expect(only?.blocks?.map(({ change }) => change)).toEqual(['same', 'changed', 'same', 'added']);
  });

  it('that say something wholly different are not taken for one that changed', () => {
    expect(changes([paragraph('the plug was warm')], [paragraph('ordered new housings today')])).toEqual(['removed', 'added']);
  });

  it('of code keep their lines', () => {
    const code = (words: string): DocNode => ({ type: 'codeBlock', content: [text(words)] });
    const [only] = between([code('a = 1\nb = 2\n')], [code('a = 1\nb = 3\n')]);
    expect(only?.runs?.map(({ change, node }) => [change, node.text])).toEqual([
      ['same', 'a = 1\nb = '],
      ['removed', '2'],
      ['added', '3'],
      ['same', '\n'],
    ]);
  });
});

describe('widgets', () => {
  it('that came or went have no state on the other side; moved and changed ones have both', () => {
    const after = pageDifferences(content([paragraph('x')]), content([paragraph('x'), widget('w1')], { w1: { cause: 'splice' } }));
    expect(after[1]).toMatchObject({ change: 'added', widget: { id: 'w1', before: null, after: { cause: 'splice' } } });
    const moved = pageDifferences(
      content([widget('w1'), paragraph('one'), paragraph('two')], { w1: { cause: 'splice' } }),
      content([paragraph('one'), paragraph('two'), widget('w1')], { w1: { cause: 'coil' } }),
    );
    expect(moved.map(({ change }) => change)).toEqual(['moved-away', 'same', 'same', 'moved-here']);
    expect(moved[3]?.widget).toEqual({ id: 'w1', kind: 'fix-record', before: { cause: 'splice' }, after: { cause: 'coil' } });
  });
});

describe('a summary', () => {
  it('counts words, ticks, counts of all writers, entries and widgets', () => {
    const before = content([heading(1, 'Spinner'), widget('p', 'connector-plan'), widget('t', 'proof-test')], {
      p: { header: 'A3J4', 'tick.power-off': { by: 'Ines', at: '1' } },
      t: { 'run.0.cold.1234567': 2 },
    });
    const after = content(
      [
        heading(1, 'Spinner'),
        paragraph('It misses once it is warm.'),
        widget('p', 'connector-plan'),
        widget('t', 'proof-test'),
        widget('r'),
      ],
      {
        p: { header: 'A3J4', 'tick.mark': { by: 'Wen', at: '2' }, 'seat.1': { by: 'Wen', at: '2' }, 'seat.2': { by: 'Wen', at: '3' } },
        t: { 'run.0.cold.1234567': 5, 'run.0.cold.7654321': 9 },
        r: { cause: 'splice' },
      },
    ); // prettier-ignore
    expect(summaryWords(summaryOf(pageDifferences(before, after)))).toBe('+6 words, 3 ticks, 1 tick taken off, 12 counts, fix record');
  });

  it('tells entries of a widget that was there before', () => {
    const on = (state: PageContent['widgets'][string]) => content([widget('r')], { r: state });
    const told = summaryWords(summaryOf(pageDifferences(on({ cause: 'coil' }), on({ cause: 'splice', minutes: 5 }))));
    expect(told).toBe('2 entries in fix record');
  });

  it('of a page’s first stretch counts all of it', () => {
    expect(summaryWords(summaryOf(pageDifferences(noContent, content([heading(1, 'Spinner misses'), list('one two', 'three')]))))).toBe(
      '+5 words',
    );
  });
});

describe('laying side by side', () => {
  it('keeps every place of both lists, in order, whatever they are', () => {
    const keys = fc.array(fc.constantFrom('a', 'b', 'c', 'd'), { maxLength: 12 });
    fc.assert(
      fc.property(keys, keys, (before, after) => {
        const pairs = align(before, after, (b, a) => ((b * 7 + a * 3) % 5) / 5);
        expect(pairs.flatMap((p) => p.before ?? [])).toEqual(before.map((_, k) => k));
        expect(pairs.flatMap((p) => p.after ?? [])).toEqual(after.map((_, k) => k));
        for (const pair of pairs) if (pair.same) expect(before[pair.before ?? -1]).toBe(after[pair.after ?? -1]);
      }),
      { numRuns: 300 },
    );
  });

  it('gives up finding what stayed when almost nothing did, and is still whole', () => {
    const before = Array.from({ length: 3000 }, (_, k) => `b${k}`);
    const after = Array.from({ length: 3000 }, (_, k) => `a${k}`);
    const pairs = align(before, after, () => 1);
    expect(pairs.filter((p) => p.before !== null)).toHaveLength(3000);
    expect(pairs.filter((p) => p.after !== null)).toHaveLength(3000);
  });

  it('words and signs together are the text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (any) => {
        expect(tokensOf(any).join('')).toBe(any);
      }),
    );
    const runs = wordRuns('Ω 😀 of row 6', 'Ω 😁 of row 7');
    expect(runs.map(({ change, text: words }) => `${change} ${words}`)).toEqual([
      'same Ω ',
      'removed 😀',
      'added 😁',
      'same  of row ',
      'removed 6',
      'added 7',
    ]);
  });
});
