/** Wording over derived lines: it stands while the facts do, and says so when they change. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { evaluatePage } from '@/lib/notebook/evaluate';
import { writeUp } from '@/lib/notebook/writeup';
import { type DerivedLine, sectionOf } from '@/lib/notebook/writeup/types';
import { draftOf, groundOf, isFixed, isOwn, ownKey, staleLines } from '@/lib/notebook/writeup/wording';
import { page as generated } from '../notebook/arbitrary';
import { context } from '../notebook/story';
import { derive, priced, record, wording, written } from './pages';

const done = 'done.r.0';
const parts = 'parts.T-254-S';
const partsText = '10 × Terminal, 2.54 mm, 22 to 30 AWG (T-254-S)';

describe('a worded line', () => {
  const over = { [done]: wording('New housing', 'We made a new plug') };

  it('stands in place of the page’s words while the facts stand', () => {
    const { line, texts } = written(record(), over);
    expect(line(done)).toMatchObject({ standing: 'worded', stale: false, derived: 'New housing', text: 'We made a new plug' });
    expect(texts('done')).toEqual(['We made a new plug']);
  });

  it('says when the facts under it changed, and is sure again when they change back', () => {
    const changed = written(record({ remedy: '"Housing and header replaced"' }), over);
    expect(changed.line(done)).toMatchObject({ stale: true, now: 'Housing and header replaced', wording: { over: 'New housing' } });
    expect(staleLines(changed.lines).map(({ key }) => key)).toEqual([done]);
    expect(staleLines(written(record(), over).lines)).toEqual([]);
  });

  it('comes to nobody else’s facts: another line that changes leaves it sure', () => {
    expect(staleLines(written(record({ symptom: '"Never counts"', minutes: '20' }), over).lines)).toEqual([]);
  });

  it('stays in sight when the page says nothing there any more, and is not told to the customer', () => {
    const { line, lines, texts } = written(record({ remedy: '""' }), over);
    expect(line(done)).toMatchObject({ standing: 'gone', stale: true, text: 'We made a new plug' });
    expect(staleLines(lines)).toHaveLength(1);
    expect(texts('done')).toBeUndefined();
  });

  it('left out is left out, and asks again when the facts change', () => {
    const out = { [done]: wording('New housing', '') };
    expect(written(record(), out).texts('done')).toBeUndefined();
    expect(written(record(), out).line(done)).toMatchObject({ standing: 'out', stale: false });
    expect(written(record({ remedy: '"Something else"' }), out).line(done)).toMatchObject({ standing: 'out', stale: true });
  });
});

describe('a line of one’s own', () => {
  const key = ownKey('watch', 'abcdefgh2345');
  it('stands over all that the page says in its part', () => {
    const own = { [key]: wording('', 'Keep the room dry') };
    expect(written(record(), own).texts('watch')).toEqual(['Keep the room dry']);
    expect(written(record(), own).line(key)).toMatchObject({ standing: 'own', stale: false });
    expect(written(record({ watch: '"Row 6"' }), own).line(key)).toMatchObject({ stale: true, now: 'Row 6' });
  });

  it('can never be taken for the line of a widget or of a part', () => {
    expect(isOwn(key)).toBe(true);
    expect(sectionOf(key)).toBe('watch');
    const named: DerivedLine[] = derive('# t\n\n```widget connector-plan own\nheader: "A3J4"\n```\n').lines;
    for (const line of [...named, ...derive(record()).lines]) expect(isOwn(line.key)).toBe(false);
  });
});

describe('cautions', () => {
  it('are never reworded or left out, only added to', () => {
    const all = written(record(), { 'cautions.standing': wording('', ''), [ownKey('cautions', 'b')]: wording('x', 'The glass is off') });
    expect(all.texts('cautions')).toEqual([expect.stringContaining('unplug before opening'), 'The glass is off']);
    expect(all.line('cautions.standing')).toMatchObject({ standing: 'derived', stale: false });
    expect(isFixed('cautions', 'cautions.standing')).toBe(true);
  });
});

describe('a price', () => {
  it('is the page’s own until somebody writes one; then a new price under it is said', () => {
    const { up, line } = written(record());
    const own = up.lines.find((l) => l.key === parts);
    expect(own).toMatchObject({ text: partsText, price: expect.any(Number) });
    const ground = groundOf(partsText, own?.price ?? 0, true, 'GBP');
    const mine = { [parts]: wording(ground, null, 500) };
    expect(line(parts)?.price).toBe(own?.price);
    expect(written(record(), mine).line(parts)).toMatchObject({ text: partsText, price: 500, derivedPrice: own?.price, stale: false });
    const dearer = { ...priced.catalogue, parts: priced.catalogue.parts.map((p) => (p.id === 'T-254-S' ? { ...p, packPence: 9900 } : p)) };
    expect(written(record(), mine, { given: { ...priced, catalogue: dearer } }).line(parts)).toMatchObject({ price: 500, stale: true });
  });

  it('does not trouble wording without a price of its own', () => {
    const mine = { [parts]: wording(partsText, 'Ten crimp contacts') };
    const dearer = { ...priced.catalogue, parts: priced.catalogue.parts.map((p) => ({ ...p, packPence: 9900 })) };
    expect(staleLines(written(record(), mine, { given: { ...priced, catalogue: dearer } }).lines)).toEqual([]);
  });
});

it('every line has a key of its own, and wording over what stands is never stale', () => {
  fc.assert(
    fc.property(generated, (content) => {
      const up = writeUp(evaluatePage(content, context), content, null, priced);
      expect(new Set(up.lines.map(({ key }) => key)).size).toBe(up.lines.length);
      const all = Object.fromEntries(up.lines.map(({ key, facts }) => [key, wording(facts, 'w')]));
      expect(staleLines(draftOf(up, all, 'GBP'))).toEqual([]);
    }),
    { numRuns: 30 },
  );
});
