import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { evaluatePage } from '@/lib/notebook/evaluate';
import { plainText, titleOf } from '@/lib/notebook/prose';
import type { DocNode, EvaluatedPage, PageContent } from '@/lib/notebook/types';
import { widgetNodes } from '@/lib/notebook/walk';
import { standingCaution } from '@/lib/notebook/writeup';
import type { Model as PlanModel } from '@/lib/widgets/connector-plan/definition';
import type { Fact, WidgetState } from '@/lib/widgets/definition';
import type { Model as RecordModel } from '@/lib/widgets/fix-record/definition';
import { fetchedKinds } from '@/lib/widgets/lazy';
import { menu } from '@/lib/widgets/menu';
import type { Model as TallyModel } from '@/lib/widgets/parts-tally/definition';
import { definitions } from '@/lib/widgets/registry';
import { viewOf } from '@/lib/widgets/views';
import { fixtureChart } from '../core/fixture';
import { page as generated, jsonValue } from './arbitrary';
import { context, evaluated, read, spinner } from './story';
import { told } from './told';

const modelOf = <M>(page: EvaluatedPage): M => page.widgets[0]?.model as M;
const one = (kind: string, state: WidgetState, chart = context.chart as typeof context.chart | null): EvaluatedPage =>
  evaluatePage(
    { doc: { type: 'doc', content: [{ type: 'widget', attrs: { id: 'w', kind } }] }, widgets: { w: state } },
    { ...context, chart },
  );
const values = (page: { facts: Fact[] }, kind: Fact['kind']) => page.facts.filter((f) => f.kind === kind).map((f) => f.value);

describe('fix record', () => {
  const page = evaluated(spinner);

  it('finds wires and pins of the circuits it names, though its text says neither', () => {
    expect(spinner).not.toMatch(/gr[ea]y|orange|A3J4|violet/i);
    expect(values(page, 'wire')).toEqual(expect.arrayContaining(['grey/orange', 'violet/yellow', 'violet/orange']));
    expect(values(page, 'pin')).toEqual(expect.arrayContaining(['A3J4-7', 'A3J6-5']));
    expect(values(page, 'header')).toEqual(expect.arrayContaining(['A3J4', 'A3J6']));
    expect(values(page, 'circuit')).toEqual(['26', '46']);
  });

  it('says what else it is about', () => {
    expect(values(page, 'machine')).toEqual(['lantern-regatta-3']);
    expect(values(page, 'board-design')).toEqual(['SB-2']);
    expect(values(page, 'fault')).toEqual(['worn-contact']);
    expect(values(page, 'part')).toEqual(['T-254-S']);
    expect(values(page, 'outcome')).toEqual(['mended']);
    expect(values(page, 'symptom')).toEqual(['Spinner drops one turn in four once warm']);
    expect(values(page, 'text')).toEqual(expect.arrayContaining(['the plug of the switch rows', 'New housing, every wire crimped']));
    const siblings = values(page, 'sibling');
    expect(siblings.length).toBeGreaterThan(0);
    expect(siblings).not.toContain('46'); // the page is about it, so it is no sibling
    const press = modelOf<RecordModel>(page).circuits.flatMap((c) => c.press.map((s) => s.number));
    for (const sibling of siblings) expect(press).toContain(sibling);
  });

  it.each(['A3J4-7', 'a3p4-7', ' A3P4-07 '])('reads the place %j as a pin with its wire', (place) => {
    const facts = one('fix-record', { place });
    expect(values(facts, 'pin')).toEqual(['A3J4-7']);
    expect(values(facts, 'wire')).toEqual(['grey/orange']);
    expect(values(facts, 'header')).toEqual(['A3J4']);
    expect(values(facts, 'text')).toEqual([]);
  });

  it('takes a place of words, a header, and a pin that the chart does not have', () => {
    expect(values(one('fix-record', { place: 'A3J6' }), 'header')).toEqual(['A3J6']);
    expect(values(one('fix-record', { place: 'splice S2' }), 'pin')).toEqual([]);
    expect(values(one('fix-record', { place: 'A3J4-60' }), 'pin')).toEqual(['A3J4-60']);
    expect(values(one('fix-record', { place: 'A3J4-60' }), 'wire')).toEqual([]);
  });

  it('knows coils by their number, and as-found wires beside the manual’s', () => {
    const coil = one('fix-record', { 'circuit.L2': true });
    expect(values(coil, 'wire')).toEqual(['brown/red']);
    expect(values(coil, 'pin')).toEqual(['A2J3-2']);
    expect(values(one('fix-record', { 'circuit.44': true }), 'wire')).toEqual(['violet/yellow', 'grey/tan', 'pink/yellow']);
  });

  it('keeps a circuit that the chart does not know, and works without a machine', () => {
    const unknown = one('fix-record', { 'circuit.99': true });
    expect(modelOf<RecordModel>(unknown).circuits).toEqual([
      { number: '99', name: '', known: false, wires: [], pins: [], headers: [], press: [] },
    ]);
    expect(values(one('fix-record', { 'circuit.46': true, place: 'A3J4-7' }, null), 'circuit')).toEqual(['46']);
    expect(one('fix-record', {}, null).facts.map((f) => f.kind)).toEqual(['outcome']);
  });

  it('refuses wrong types under their key, keeps unknown keys, never throws', () => {
    expect(
      one('fix-record', { minutes: 'long', symptom: 7, 'circuit.46': 'yes', outcome: 'perhaps', later: { any: [1] } }).widgets[0],
    ).toMatchObject({
      model: null,
      error:
        'minutes: write a number; symptom: write words; circuit.46: write true or false; outcome: write open, mended, watching, not-found',
      state: { later: { any: [1] } },
    });
    expect(one('fix-record', { later: { any: [1] } }).widgets[0]?.error).toBeUndefined();
  });
});

describe('circuit lookup', () => {
  it('says nothing until it is sure', () => {
    expect(one('circuit-lookup', {}).facts.map((f) => f.kind)).toEqual(['machine', 'board-design']);
    expect(values(one('circuit-lookup', { clue: 'grey' }), 'wire')).toEqual([]);
    expect(values(one('circuit-lookup', { clue: 'no such thing at all' }), 'wire')).toEqual([]);
  });

  it('says circuit, wires, pins and siblings when it is', () => {
    const page = one('circuit-lookup', { clue: '46' });
    expect(values(page, 'circuit')).toEqual(['46']);
    expect(values(page, 'wire')).toEqual(['violet/yellow', 'grey/orange']);
    expect(values(page, 'pin')).toEqual(expect.arrayContaining(['A3J6-5', 'A3J4-7']));
  });

  it('follows what somebody picked among several', () => {
    const several = one('circuit-lookup', { clue: 'sling' });
    expect(values(several, 'circuit')).toEqual([]);
    expect(values(one('circuit-lookup', { clue: 'sling', pick: 'circuit:44' }), 'circuit')).toEqual(['44']);
  });

  it('takes a pin for a pin: one wire, one header', () => {
    const page = one('circuit-lookup', { clue: 'A3J4-7' });
    expect(values(page, 'pin')).toEqual(['A3J4-7']);
    expect(values(page, 'wire')).toEqual(['grey/orange']);
  });

  it('without a machine has nothing to look in', () => {
    expect(one('circuit-lookup', { clue: '46' }, null).widgets[0]?.model).toEqual({ clue: '46', machine: '', chart: null, result: null });
  });
});

describe('connector plan', () => {
  const tick = { by: 'Ines', at: '2026-11-21T10:00:00.000Z' };

  it('plans, counts ticks and names its header, not each of its wires', () => {
    const page = one('connector-plan', {
      header: 'A3J4',
      headerSide: 'reflow',
      'tick.power-off': tick,
      'tick.gone': tick,
      'seat.1': tick,
      'tug.1': tick,
      'seat.2': tick,
    });
    const model = modelOf<PlanModel>(page);
    expect(model.result?.ok).toBe(true);
    expect(model.done).toBe(1); // a tick for a step that the plan no longer has does not count
    expect(model.of).toBe(model.result?.ok ? model.result.plan.steps.length : 0);
    expect(page.progress).toEqual([
      { widget: 'w', label: 'Order of work', done: 1, of: model.of },
      { widget: 'w', label: 'Wires seated and tugged', done: 1, of: 10 },
    ]);
    expect(values(page, 'header')).toEqual(['A3J4']);
    expect(values(page, 'wire')).toEqual([]);
    expect(values(page, 'part')).toContain('T-254-S');
  });

  it('offers every header before one is chosen, and says what is wrong with an unknown one', () => {
    const model = modelOf<PlanModel>(one('connector-plan', {}));
    expect(model.headers.map((h) => h.id)).toEqual([...fixtureChart.headers.keys()]);
    expect(model.result).toBeNull();
    expect(modelOf<PlanModel>(one('connector-plan', { header: 'A9J9' })).result).toMatchObject({ ok: false });
  });

  it('is told to the customer only once it is done', () => {
    const content = (state: WidgetState): PageContent => ({
      doc: { type: 'doc', content: [{ type: 'widget', attrs: { id: 'w', kind: 'connector-plan' } }] },
      widgets: { w: state },
    });
    const tell = (state: WidgetState) => told(content(state));
    expect(tell({ header: 'A3J4' })).toMatchObject({ done: [], parts: [], cautions: [standingCaution] });
    const begun = tell({ header: 'A3J4', 'tick.power-off': tick });
    expect(begun.done).toEqual([]);
    expect(begun.cautions.length).toBeGreaterThan(1);
    const model = modelOf<PlanModel>(one('connector-plan', { header: 'A3J4' }));
    const all = Object.fromEntries(model.result?.ok ? model.result.plan.steps.map((step) => [`tick.${step.id}`, tick]) : []);
    const done = tell({ header: 'A3J4', ...all });
    expect(done.done[0]).toContain('A3P4');
    expect(done.parts.join()).toContain('T-254-S');
  });
});

describe('parts tally', () => {
  it('sums what the other widgets need and what was typed, wherever it stands', () => {
    const text = (before: string, after: string) =>
      `# t\n\n${before}\n\n\`\`\`widget parts-tally p\nline.ties: {"name":"Loom ties","quantity":4}\nline.x: {"name":"Terminal","quantity":2,"part":"T-254-S"}\n\`\`\`\n\n${after}\n`;
    const record = '```widget fix-record r\npart.T-254-S: 10\n```';
    for (const page of [evaluated(text(record, '')), evaluated(text('', record))]) {
      const tally = (page.widgets.find((w) => w.kind === 'parts-tally')?.model as TallyModel | undefined)?.tally;
      expect(tally?.lines.find((l) => l.part === 'T-254-S')).toMatchObject({ needed: 12, onHand: 140, short: 0 });
      expect(tally?.lines.find((l) => l.name === 'Loom ties')).toMatchObject({ needed: 4, onHand: null });
    }
  });

  it('does not count another tally’s sum, only its typed lines', () => {
    const page = evaluated(
      '```widget parts-tally a\nline.1: {"name":"Loom ties","quantity":4}\n```\n\n```widget parts-tally b\n```\n\n```widget fix-record r\npart.F-4S: 1\n```\n',
    );
    const needed = page.widgets.slice(0, 2).map((w) => (w.model as TallyModel).tally.lines.map((l) => [l.name, l.needed]));
    expect(needed[0]).toEqual(
      expect.arrayContaining([
        ['Loom ties', 4],
        ['Fuse, 4 A slow', 1],
      ]),
    );
    expect(needed[1]).toEqual(
      expect.arrayContaining([
        ['Loom ties', 4],
        ['Fuse, 4 A slow', 1],
      ]),
    );
  });

  it('refuses a line that is none', () => {
    expect(one('parts-tally', { 'line.a': 'ties' }).widgets[0]?.error).toBe('line.a: a line is {"name": words, "quantity": number}');
    expect(one('parts-tally', { 'line.a': { name: 'ties', quantity: '4' } }).widgets[0]?.error).toBe('line.a: write a number');
  });
});

describe('a page', () => {
  it('keeps a widget of a kind it does not know', () => {
    const page = evaluated('# t\n\n```widget hologram h\nbeams: 3\n```\n');
    expect(page.widgets).toEqual([{ id: 'h', kind: 'hologram', state: { beams: 3 }, definition: null, model: null }]);
  });

  it('computes whatever it is given without throwing', () => {
    const keys = [
      'clue',
      'pick',
      'header',
      'headerSide',
      'saveKey',
      'tick.cut',
      'seat.1',
      'tug.x',
      'line.a',
      'symptom',
      'circuit.46',
      'circuit.',
      'cause',
      'place',
      'minutes',
      'outcome',
      'part.T-254-S',
      'on',
    ];
    const value = fc.oneof(
      jsonValue,
      fc.constantFrom('A3J4', 'A3J4-7', '46', 'reflow', 'mended', true, -1, 1e300),
      fc.record({ name: fc.string(), quantity: fc.integer() }),
    );
    const state = fc.dictionary(fc.constantFrom(...keys), value, { noNullPrototype: true });
    fc.assert(
      fc.property(fc.constantFrom(...definitions.map((d) => d.kind)), state, fc.boolean(), (kind, chosen, machine) => {
        const page = one(kind, chosen, machine ? fixtureChart : null);
        const [widget] = page.widgets;
        if (!widget?.error) expect(typeof widget?.definition?.markdown(widget.model)).toBe('string');
        for (const fact of page.facts) expect([typeof fact.value, typeof fact.label]).toEqual(['string', 'string']);
      }),
      { numRuns: 500 },
    );
  });

  it('has a title, text with the title first, and no fact twice', () => {
    fc.assert(
      fc.property(generated, (content) => {
        const page = evaluatePage(content, context);
        expect(page.title).not.toBe('');
        expect(page.text.startsWith(page.title) || page.title === 'Untitled' || page.title.endsWith('…')).toBe(true);
        const keys = page.facts.map((f) => `${f.kind} ${f.value}`);
        expect(new Set(keys).size).toBe(keys.length);
      }),
      { numRuns: 100 },
    );
  });

  it('computes a widget once, and once more only when it asks what the others need or prove', () => {
    const spies = definitions.map((definition) => vi.spyOn(definition, 'compute'));
    evaluated(definitions.map(({ kind }) => `\`\`\`widget ${kind} ${kind}\n\`\`\`\n`).join('\n'));
    expect(definitions.map(({ kind }, i) => [kind, spies[i]?.mock.calls.length])).toEqual(
      definitions.map(({ kind }) => [kind, ['parts-tally', 'fix-record'].includes(kind) ? 2 : 1]),
    );
    for (const spy of spies) spy.mockRestore();
  });
});

describe('words of a page', () => {
  const heading = (level: number, text: string): DocNode => ({ type: 'heading', attrs: { level }, content: [{ type: 'text', text }] });
  const paragraph = (text: string): DocNode => ({ type: 'paragraph', content: [{ type: 'text', text }] });
  const doc = (...content: DocNode[]): DocNode => ({ type: 'doc', content });
  it.each<[DocNode, string]>([
    [doc(heading(2, 'a'), heading(1, 'b'), heading(1, 'c')), 'b'],
    [doc(heading(1, '  '), paragraph('first  words')), 'first words'],
    [doc({ type: 'paragraph' }), 'Untitled'],
    [doc(paragraph(`${'word '.repeat(20)}`)), `${'word '.repeat(16).trim()}…`],
  ])('title %#', (content, title) => {
    expect(titleOf(content)).toBe(title);
  });
  it('text is one line a block, breaks and lists included, widgets left out', () => {
    const content = read('# t\n\na\\\nb\n\n- c\n- d\n\n> e\n\n```\nf\n```\n\n```widget fix-record r\nsymptom: "g"\n```\n');
    expect(plainText(content.doc)).toBe('t\na b\nc\nd\ne\nf');
    expect(widgetNodes(content.doc)).toEqual([{ id: 'r', kind: 'fix-record' }]);
  });
});

describe('registry', () => {
  it('names the same kinds in the menu, for the server and for the browser', () => {
    const kinds = definitions.map((d) => d.kind);
    expect(menu.map((entry) => entry.kind)).toEqual(kinds);
    expect([...fetchedKinds].sort()).toEqual([...kinds].sort());
    for (const kind of kinds) expect(viewOf(kind)).not.toBeNull();
    for (const entry of menu) expect(entry.words.length).toBeGreaterThan(0);
  });
  it('has one definition a kind', () => {
    expect(new Set(definitions.map((d) => d.kind)).size).toBe(definitions.length);
    for (const d of definitions) {
      expect(d.kind).toMatch(/^[a-z][a-z-]*$/);
      expect(d.state.safeParse({ 'unknown.key': [1], unknown: null }).data).toEqual({ 'unknown.key': [1], unknown: null });
    }
  });
});
