/** Connector plans of one page that share a strip: its drawing, with whom, what is kept, what is not proved. */
import { describe, expect, test } from 'vitest';
import { gapWords, planHousings, shareOf } from '@/lib/core/harness';
import type { Part } from '@/lib/core/parts/schema';
import { evaluatePage } from '@/lib/notebook/evaluate';
import type { Model } from '@/lib/widgets/connector-plan/definition';
import { View } from '@/lib/widgets/connector-plan/view';
import { chartWith, fixtureCatalogue, without } from '../core/parts-fixture';
import { faults, render, textOf, unnamedWires } from './markup';

const long = (positions: number): Part =>
  ({ ...fixtureCatalogue.parts.find((p) => p.id === 'H-254-16'), id: `H-254-${positions}`, positions }) as Part;
const chart = chartWith({ positions: 7, pins: [{ position: 1, net: 'switch-row.1' }] });

function models(positions: number, headerSide = 'sound') {
  const catalogue = { ...fixtureCatalogue, parts: [long(positions), ...without('H-254-9', 'H-254-11', 'H-254-16', 'H-254-20').parts] };
  const headers = ['A3J6', 'A9J1', 'A3J5'];
  const page = evaluatePage(
    {
      doc: { type: 'doc', content: headers.map((id) => ({ type: 'widget', attrs: { id, kind: 'connector-plan' } })) },
      widgets: Object.fromEntries(headers.map((header) => [header, { header, headerSide }])),
    },
    { chart, catalogue, stock: { [`H-254-${positions}`]: 1 }, record: {} },
  );
  return page.widgets.map((w) => w.model as Model);
}
const html = (all: Model[]) => render(all.map((model, k) => <View key={k} id={`w${k}`} model={model} state={{}} />));

test('each draws the strip, its own piece named, and says with whom it is shared and who counts it', () => {
  const all = models(24);
  const [first = '', second = ''] = all.map((model) => textOf(html([model])));
  const figure = 'From H-254-24: 9 + 7 + 6, cut through positions 10 and 18. Nothing is left over.';
  expect(first).toContain(`${figure} Shared with the plans for A9P1 and A3P5. Counted in this plan.`);
  expect(second).toContain(`${figure} Shared with the plans for A3P6 and A3P5. Counted in the plan for A3P6.`);
  expect(second).toMatch(/A9P1: 11 to 17, this plan/);
  expect(first).toContain('no other way of cutting and buying costs less');
  expect(faults(html(all))).toEqual([]);
  expect(unnamedWires(html(all))).toEqual([]);
});

test('an offcut that goes back to the drawer is named, one too short is not', () => {
  expect(textOf(html(models(28)))).toContain('Back to the drawer: offcut of H-254-28, 3 positions.');
  expect(textOf(html(models(26)))).not.toContain('Back to the drawer');
});

test('new board headers from one strip are drawn by their own names', () => {
  const text = textOf(html(models(24, 'replace').slice(1, 2)));
  expect(text).toContain('New header One R-254-36, Header strip, 2.54 mm, serves this plan and the plans for A3P6 and A3P5.');
  expect(text).toMatch(/From R-254-36: 9 \+ 7 \+ 6, broken behind positions 9, 16 and 22\. 14 left over: keep them\./);
});

describe('a job that is not proved', () => {
  const lengths = [9, 8, 8, 7, 7, 6, 6, 5, 5, 5, 4, 4, 3];
  const header = (positions: number) =>
    ({ id: 'A1J1', positions, pitchMm: 2.54, keys: [], plating: 'tin', termination: 'crimp', pins: [] }) as const;
  const connectors = lengths.map((positions, k) => ({ id: `C${k}`, header: { ...header(positions), keys: [], pins: [] } }));
  const job = planHousings(connectors, fixtureCatalogue, { 'H-254-16': 3 }, [], { reusable: 3, nodes: 1 });

  test('says how far it may be from the best', () => {
    expect(job.proven).toBe(false);
    const gap = shareOf(job, 'C0')?.gap ?? '';
    expect(gap).toBe(gapWords(job.groups[0]!));
    expect(gap).toMatch(/^Those of 2\.54 mm: not proved the best\. This plan has .*; with less than .* it cannot be done\.$/);
    const [model] = models(24);
    if (!model?.result?.ok) throw new Error('no plan');
    const { plan } = model.result;
    const unproved = { ...plan, job: { housing: { ...plan.job!.housing!, proven: false, gap }, header: null } };
    const text = textOf(html([{ ...model, result: { ok: true, plan: unproved } }]));
    expect(text).toContain(gap);
    expect(text).not.toContain('costs less');
  });
});
