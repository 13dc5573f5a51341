/** A fault finder's state through Markdown: keys with spaces, and the page that it makes. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { widgetRoot } from '@/lib/live/protocol';
import { evaluatePage } from '@/lib/notebook/evaluate';
import { fromMarkdown, toMarkdown } from '@/lib/notebook/markdown';
import { widgetActions } from '@/lib/ui/editor/widget-state';
import { context } from './story';

const page = (state: Record<string, unknown>) => ({
  doc: { type: 'doc', content: [{ type: 'widget', attrs: { id: 'w1', kind: 'fault-finder' } }] },
  widgets: { w1: state },
});
const back = (state: Record<string, unknown>) => {
  const read = fromMarkdown(toMarkdown(page(state)));
  return read.ok ? read.content.widgets.w1 : read;
};

describe('state with spaces in its keys', () => {
  const state = {
    'seen.46': { presses: 20, missed: 5, with: ['45'] },
    'test.wiggle A3J4-7 46': { saw: 'dropped', by: 'Wen Halloran', at: '2026-11-21T10:10:00+01:00' },
    'test.jumper with diode 46': { saw: 'nothing', by: 'Ines', at: '2026-11-21T10:12:00Z' },
    'test.average switch-column.4': { saw: 'flat', by: 'Ines', at: '2026-11-21T10:13:00Z' },
    'hold.a1': { held: ['46', '36'], shown: [] },
    'done.remade': true,
    about: 'switch',
  };
  it('survives Markdown', () => expect(back(state)).toEqual(state));

  it('does so for any test id', () => {
    const id = fc.array(fc.constantFrom('wiggle', 'A3J4-7', '46', 'switch-column.4', '"', ':', '“x”', '\\', 'F3, 4 A'), {
      minLength: 1,
      maxLength: 5,
    });
    fc.assert(
      fc.property(id, (words) => {
        const one = { [`test.${words.join(' ')}`]: { saw: 'x', by: 'y', at: 'z' } };
        expect(back(one)).toEqual(one);
      }),
    );
  });

  it('is what the page is computed from', () => {
    const read = fromMarkdown(toMarkdown(page(state)));
    if (!read.ok) throw new Error(read.message);
    const { facts, progress, widgets } = evaluatePage(read.content, context);
    expect(widgets[0]?.error).toBeUndefined();
    expect(facts).toContainEqual({ kind: 'circuit', value: '46', label: '46 Spinner' });
    expect(progress[0]).toMatchObject({ label: 'Tests done', widget: 'w1', done: 4 });
  });
});

it('an answer is signed with who and when', () => {
  const doc = new Y.Doc();
  widgetActions(doc, 'w', 'Wen Halloran').tick('test.wiggle A3J4-7 46', true, { saw: 'held' });
  expect(doc.getMap(widgetRoot('w')).toJSON()).toEqual({
    'test.wiggle A3J4-7 46': { saw: 'held', by: 'Wen Halloran', at: expect.stringMatching(/^\d{4}-\d\d-\d\dT/) },
  });
});
