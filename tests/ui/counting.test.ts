/** Counting together: two documents, presses at the same time, one undo each. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { widgetRoot } from '@/lib/live/protocol';
import { counted } from '@/lib/notebook/widget-state';
import { undoWidgets, widgetActions } from '@/lib/ui/editor/widget-state';

const stateOf = (doc: Y.Doc) => doc.getMap(widgetRoot('w')).toJSON();
const sync = (a: Y.Doc, b: Y.Doc) => {
  Y.applyUpdate(b, Y.encodeStateAsUpdate(a, Y.encodeStateVector(b)), 'network');
  Y.applyUpdate(a, Y.encodeStateAsUpdate(b, Y.encodeStateVector(a)), 'network');
};
const writer = (clientID: number) => {
  const doc = new Y.Doc();
  doc.clientID = clientID;
  return { doc, act: widgetActions(doc, 'w', `writer ${clientID}`) };
};

describe('count', () => {
  it('writes under the writer’s own key', () => {
    const { doc, act } = writer(7);
    act.count('run.0.cold', 1);
    act.count('run.0.cold', 1);
    expect(stateOf(doc)).toEqual({ 'run.0.cold.7': 2 });
  });

  it('loses no press of two people at once, where one shared number would', () => {
    const [a, b] = [writer(1), writer(2)];
    for (let i = 0; i < 5; i++) {
      a.act.count('run.0.cold', 1);
      b.act.count('run.0.cold', 1);
    }
    sync(a.doc, b.doc);
    expect(counted(stateOf(a.doc), 'run.0.cold')).toBe(10);
    expect(stateOf(b.doc)).toEqual(stateOf(a.doc));
  });

  it('takes back another’s press, but never more than there are', () => {
    const [a, b] = [writer(1), writer(2)];
    a.act.count('run.0.cold', 1);
    sync(a.doc, b.doc);
    b.act.count('run.0.cold', -1);
    b.act.count('run.0.cold', -1);
    sync(a.doc, b.doc);
    expect(counted(stateOf(a.doc), 'run.0.cold')).toBe(0);
    expect(stateOf(a.doc)).toEqual({ 'run.0.cold.1': 1, 'run.0.cold.2': -1 });
  });

  it('any interleaving of two writers’ presses, misses and syncs converges, and every press is counted', () => {
    const step = fc.record({
      who: fc.constantFrom(0, 1),
      what: fc.constantFrom('cold', 'warm', 'miss', 'sync'),
    });
    fc.assert(
      fc.property(fc.array(step, { maxLength: 60 }), (steps) => {
        const writers = [writer(1), writer(2)] as const;
        const pressed = { cold: 0, warm: 0 };
        let misses = 0;
        steps.forEach(({ who, what }, n) => {
          const { act, doc } = writers[who] ?? writers[0];
          const run = Math.max(0, ...Object.keys(stateOf(doc)).map((k) => (k.startsWith('miss.') ? Number(k.split('.')[1]) + 1 : 0)));
          if (what === 'sync') sync(writers[0].doc, writers[1].doc);
          else if (what === 'miss') {
            act.tick(`miss.${run}.cold.${n}`, true);
            misses++;
          } else {
            act.count(`run.${run}.${what}`, 1);
            pressed[what]++;
          }
        });
        sync(writers[0].doc, writers[1].doc);
        const state = stateOf(writers[0].doc);
        expect(stateOf(writers[1].doc)).toEqual(state);
        const runs = Array.from({ length: misses + 1 }, (_, r) => r);
        for (const condition of ['cold', 'warm'] as const)
          expect(runs.reduce((sum, r) => sum + counted(state, `run.${r}.${condition}`), 0)).toBe(pressed[condition]);
        expect(Object.keys(state).filter((k) => k.startsWith('miss.'))).toHaveLength(misses);
      }),
      { numRuns: 150 },
    );
  });
});

describe('undo', () => {
  const undoable = () => {
    const { doc, act } = writer(3);
    const map = doc.getMap(widgetRoot('w'));
    const undo = new Y.UndoManager(map, { trackedOrigins: new Set() }); // as the editor's: nothing that comes from the network
    undoWidgets(doc, undo);
    return { doc, act, undo };
  };

  it('takes back one press at a time, however fast they came, and not the typing around them', () => {
    const { doc, act, undo } = undoable();
    act.set('what', '46');
    for (let i = 0; i < 3; i++) act.count('run.0.cold', 1);
    act.set('note', 'x');
    expect(counted(stateOf(doc), 'run.0.cold')).toBe(3);
    undo.undo();
    expect(stateOf(doc)).toEqual({ what: '46', 'run.0.cold.3': 3 });
    undo.undo();
    expect(counted(stateOf(doc), 'run.0.cold')).toBe(2);
    undo.redo();
    expect(counted(stateOf(doc), 'run.0.cold')).toBe(3);
    for (let i = 0; i < 3; i++) undo.undo();
    expect(stateOf(doc)).toEqual({ what: '46' });
  });

  it('leaves other people’s presses alone', () => {
    const { doc, act, undo } = undoable();
    const other = writer(4);
    act.count('run.0.cold', 1);
    sync(doc, other.doc);
    other.act.count('run.0.cold', 1);
    sync(doc, other.doc);
    undo.undo();
    expect(stateOf(doc)).toEqual({ 'run.0.cold.4': 1 });
  });
});
