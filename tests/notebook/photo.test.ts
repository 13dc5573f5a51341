/** The photo widget: what it shows, what it is about, and that several people's marks live together. */
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { widgetRoot } from '@/lib/live/protocol';
import { widgetLines } from '@/lib/notebook/differences';
import { evaluatePage } from '@/lib/notebook/evaluate';
import { fromMarkdown, readableMarkdown, toMarkdown } from '@/lib/notebook/markdown';
import { undoWidgets, widgetActions, widgetOrigin } from '@/lib/ui/editor/widget-state';
import type { WidgetState } from '@/lib/widgets/definition';
import definition, { type Model } from '@/lib/widgets/photo/definition';
import { fixtureChart } from '../core/fixture';
import { fixtureCatalogue } from '../core/parts-fixture';
import { told } from './told';

const hash = 'a'.repeat(64);
const photo = (at: string, picture = hash) => ({ picture, width: 4000, height: 3000, by: 'Ines', at });
const context = { chart: fixtureChart, catalogue: fixtureCatalogue, stock: {}, record: {} };
const contentOf = (state: WidgetState) => ({
  doc: {
    type: 'doc',
    content: [
      { type: 'heading', attrs: { level: 1 }, content: [{ type: 'text', text: 'Lamps out' }] },
      { type: 'widget', attrs: { id: 'w', kind: 'photo' } },
    ],
  },
  widgets: { w: state },
});
const evaluated = (state: WidgetState) => evaluatePage(contentOf(state), context);
const modelOf = (state: WidgetState) => evaluated(state).widgets[0]?.model as Model;
const state: WidgetState = {
  'photo.p2': photo('2026-11-21T10:05:00.000Z', 'b'.repeat(64)),
  'photo.p1': photo('2026-11-21T10:00:00.000Z'),
  'caption.p1': 'Row header, as it came',
  'mark.a': { photo: 'p1', sort: 'pin', n: 1 },
  'to.a': { x: 0.25, y: 0.5 },
  'label.a': 'a3p4-7',
  'mark.b': { photo: 'p1', sort: 'number', n: 1 },
  'to.b': { x: 0.5, y: 0.5 },
  'label.b': 'water mark',
  'mark.c': { photo: 'p1', sort: 'arrow', n: 1 },
  'from.c': { x: 0.1, y: 0.1 },
  'to.c': { x: 0.2, y: 0.2 },
  'after.p1': 'p2',
};

describe('what it shows', () => {
  it('photos in the order in which they were taken in, each with its marks', () => {
    const { photos } = modelOf(state);
    expect(photos.map(({ id }) => id)).toEqual(['p1', 'p2']);
    expect(photos[0]?.after?.id).toBe('p2');
    expect(photos[0]?.marks.map(({ sort, label, pin, number }) => [sort, label, pin, number])).toEqual([
      ['pin', 'a3p4-7', 'A3J4-7', 0],
      ['number', 'water mark', '', 1],
      ['arrow', '', '', 0],
    ]);
  });

  it('of two numbers given at once the later moves up, and taking one away leaves the others as they are', () => {
    const number = (id: string, n: number) => ({ [`mark.${id}`]: { photo: 'p1', sort: 'number', n }, [`to.${id}`]: { x: 0.5, y: 0.5 } });
    const numbers = (s: WidgetState) => modelOf({ 'photo.p1': state['photo.p1'], ...s }).photos[0]?.marks.map((m) => [m.id, m.number]);
    expect(numbers({ ...number('a', 1), ...number('b', 2), ...number('c', 2), ...number('d', 3) })).toEqual([
      ['a', 1],
      ['b', 2],
      ['c', 3],
      ['d', 4],
    ]);
    expect(numbers({ ...number('a', 1), ...number('c', 3) })).toEqual([
      ['a', 1],
      ['c', 3],
    ]);
  });

  it('a photo is never its own afterwards, nor is one that is not there', () => {
    expect(modelOf({ ...state, 'after.p1': 'p1' }).photos[0]?.after).toBeNull();
    expect(modelOf({ ...state, 'after.p1': 'gone' }).photos[0]?.after).toBeNull();
  });

  it('a state of the wrong shape is refused under its key', () => {
    for (const bad of [
      { 'photo.x': { ...photo(''), picture: '../secret' } },
      { 'to.a': { x: 2, y: 0 } },
      { 'mark.a': { photo: 'p', sort: 'blob', n: 1 } },
    ])
      expect(definition.state.safeParse(bad).error?.issues[0]?.path).toEqual([Object.keys(bad)[0]]);
  });
});

describe('what it is about', () => {
  it('the pins of its labels with their wires, and its words', () => {
    const wire = fixtureChart.pins.get('A3J4-7')?.wires[0]?.colour;
    expect(wire).toBeDefined();
    const facts = definition.facts(modelOf(state)).map(({ kind, value }) => [kind, value]);
    expect(facts).toEqual([
      ['text', 'Row header, as it came'],
      ['pin', 'A3J4-7'],
      ['header', 'A3J4'],
      ['wire', wire],
      ['text', 'water mark'],
    ]);
    expect(definition.pictures?.(modelOf(state))).toEqual([hash, 'b'.repeat(64)]);
  });

  it('in an export: the picture and its marks in words; the page comes back whole', () => {
    const readable = readableMarkdown(contentOf(state), evaluated(state));
    expect(readable).toContain(`![Row header, as it came](/files/${hash}/1600)`);
    expect(readable).toContain('- a3p4-7, ');
    expect(readable).toContain('- 1: water mark');
    const read = fromMarkdown(toMarkdown(contentOf(state)));
    expect(read.ok && read.content.widgets).toEqual({ w: state });
  });

  it('the write-up shows them', () => {
    const sheet = told(contentOf(state), evaluated(state));
    expect(sheet.photos.map(({ picture, caption, marks }) => [picture, caption, marks.length])).toEqual([
      [hash, 'Row header, as it came', 3],
      ['b'.repeat(64), '', 0],
    ]);
  });

  it('its history is told in words', () => {
    const { 'mark.b': _, 'to.b': __, 'label.b': ___, ...without } = state;
    expect(widgetLines('photo', without, state).map((l) => l.words)).toEqual(['Label set to “water mark”', 'A number added']);
    expect(widgetLines('photo', state, { ...state, 'to.a': { x: 0.3, y: 0.5 } }).map((l) => l.words)).toEqual(['A mark moved']);
  });
});

describe('together', () => {
  const pairOfDocs = () => {
    const [one, two] = [new Y.Doc(), new Y.Doc()];
    const swap = () => {
      Y.applyUpdate(two, Y.encodeStateAsUpdate(one));
      Y.applyUpdate(one, Y.encodeStateAsUpdate(two));
    };
    const map = one.getMap(widgetRoot('w'));
    for (const [key, value] of Object.entries(state)) map.set(key, value);
    swap();
    return { one, two, swap, read: (doc: Y.Doc) => doc.getMap(widgetRoot('w')).toJSON() };
  };

  it('one moves a mark while another writes its label and a third adds one: all of it stays', () => {
    const { one, two, swap, read } = pairOfDocs();
    widgetActions(one, 'w', 'Ines').step({ 'to.a': { x: 0.9, y: 0.9 } });
    widgetActions(two, 'w', 'Tomas').set('label.a', 'A3J4-8');
    widgetActions(two, 'w', 'Tomas').step({ 'mark.d': { photo: 'p1', sort: 'number', n: 2 }, 'to.d': { x: 0, y: 0 } });
    swap();
    expect(read(one)).toEqual(read(two));
    expect(read(one)).toMatchObject({ 'to.a': { x: 0.9, y: 0.9 }, 'label.a': 'A3J4-8', 'mark.d': { n: 2 } });
  });

  it('a mark that is removed while another moves it is gone, without a trace on the photo', () => {
    const { one, two, swap, read } = pairOfDocs();
    widgetActions(one, 'w', 'Ines').step({ 'mark.a': undefined, 'to.a': undefined, 'label.a': undefined });
    widgetActions(two, 'w', 'Tomas').step({ 'to.a': { x: 0.9, y: 0.9 } });
    swap();
    expect(modelOf(read(one)).photos[0]?.marks.map((m) => m.id)).not.toContain('a');
  });

  it('each removal is a step of undo of its own, and brings back the mark with its label', () => {
    const { one, read } = pairOfDocs();
    const undo = new Y.UndoManager(one.getMap(widgetRoot('w')), { trackedOrigins: new Set([widgetOrigin]) });
    undoWidgets(one, undo);
    const act = widgetActions(one, 'w', 'Ines');
    const whole = read(one);
    act.set('label.b', 'water mark!');
    const removal = (id: string) => ({
      [`mark.${id}`]: undefined,
      [`to.${id}`]: undefined,
      [`from.${id}`]: undefined,
      [`label.${id}`]: undefined,
    });
    act.step(removal('a'));
    act.step(removal('b')); // at once: no pause between
    expect(modelOf(read(one)).photos[0]?.marks.map((m) => m.id)).toEqual(['c']);
    undo.undo();
    expect(modelOf(read(one)).photos[0]?.marks.map((m) => [m.id, m.label])).toEqual([
      ['b', 'water mark!'],
      ['c', ''],
    ]);
    undo.undo();
    expect(read(one)).toEqual({ ...whole, 'label.b': 'water mark!' });
    undo.redo();
    expect(modelOf(read(one)).photos[0]?.marks.map((m) => m.id)).toEqual(['b', 'c']);
  });
});
