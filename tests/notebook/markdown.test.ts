import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fromMarkdown, toMarkdown } from '@/lib/notebook/markdown';
import { normalContent } from '@/lib/notebook/markdown/normal';
import { schema } from '@/lib/notebook/schema';
import { page } from './arbitrary';

const read = (text: string) => {
  const result = fromMarkdown(text);
  if (!result.ok) throw new Error(result.message);
  return result;
};
const runs = Number(process.env.RUNS ?? 300);

describe('Markdown', () => {
  it('normal form fits the schema and is its own normal form', () => {
    fc.assert(
      fc.property(page, (content) => {
        const normal = normalContent(content);
        schema.nodeFromJSON(normal.doc).check();
        expect(normalContent(normal)).toEqual(normal);
      }),
      { numRuns: runs },
    );
  });

  it('written and read back, a page is its normal form, and its text is stable', () => {
    fc.assert(
      fc.property(page, (content) => {
        const text = toMarkdown(content);
        const back = read(text);
        expect(back.content).toEqual(normalContent(content));
        expect(toMarkdown(back.content)).toBe(text);
      }),
      { numRuns: runs },
    );
  });
});
