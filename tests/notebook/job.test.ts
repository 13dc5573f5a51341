/** Several connector plans of a page are one job: one strip for three housings is needed once, and each plan says so. */
import { describe, expect, it, vi } from 'vitest';
import catalogueFile from '@/content/catalogue.json';
import { indexChart } from '@/lib/core/chart';
import { type Part, catalogue as shape } from '@/lib/core/parts/schema';
import { evaluatePage } from '@/lib/notebook/evaluate';
import { widgetContext } from '@/lib/notebook/evaluate-with';
import type { EvaluatedWidget, PageContent } from '@/lib/notebook/types';
import type { Model as PlanModel } from '@/lib/widgets/connector-plan/definition';
import type { PageContext, WidgetState } from '@/lib/widgets/definition';
import type { Model as TallyModel } from '@/lib/widgets/parts-tally/definition';
import { designOf, machineOf } from '../core/entry-pastes';
import { chartWith, fixtureCatalogue, without } from '../core/parts-fixture';
import { context as plain } from './story';

const planHousings = vi.hoisted(() => vi.fn());
vi.mock('@/lib/core/harness/job', async (load) => {
  const real = await load<typeof import('@/lib/core/harness/job')>();
  planHousings.mockImplementation(real.planHousings);
  return { ...real, planHousings };
});

// 9, 7 and 6 positions; 24 = 9 + 7 + 6 and two positions that the blade takes.
const chart = chartWith({ positions: 7, pins: [{ position: 1, net: 'switch-row.1' }] });
const long: Part = { ...fixtureCatalogue.parts.find((p) => p.id === 'H-254-16')!, id: 'H-254-24', positions: 24 } as Part;
const only24 = { ...fixtureCatalogue, parts: [long, ...without('H-254-9', 'H-254-11', 'H-254-16', 'H-254-20').parts] };
const context: PageContext = { ...plain, chart, catalogue: only24, stock: { 'H-254-24': 1, 'R-254-36': 1 } };

const content = (states: WidgetState[], tally = true): PageContent => {
  const kinds = [...states.map((_, i) => ({ id: `p${i}`, kind: 'connector-plan' })), ...(tally ? [{ id: 't', kind: 'parts-tally' }] : [])];
  return {
    doc: { type: 'doc', content: kinds.map((attrs) => ({ type: 'widget', attrs })) },
    widgets: Object.fromEntries(states.map((state, i) => [`p${i}`, state])),
  };
};
const modelOf = <M>(widget: EvaluatedWidget | undefined) => {
  if (!widget || widget.error) throw new Error(widget?.error ?? 'no widget');
  return widget.model as M;
};
const evaluate = (states: WidgetState[], from = context) => {
  const page = evaluatePage(content(states), from);
  const plans = page.widgets.slice(0, -1).map((widget) => {
    const { result } = modelOf<PlanModel>(widget);
    if (!result?.ok) throw new Error(result?.message ?? 'no plan');
    return result.plan;
  });
  return { page, plans, tally: modelOf<TallyModel>(page.widgets.at(-1)).tally };
};
const three = [{ header: 'A3J6' }, { header: 'A9J1' }, { header: 'A3J5' }];
const line = (tally: TallyModel['tally'], part: string) => tally.lines.find((l) => l.part === part);

describe('three plans on one page', () => {
  const { plans, tally } = evaluate(three);

  it('come from one housing of 24, cut through 10 and 18', () => {
    for (const { housing } of plans) {
      if (housing.how !== 'shared') throw new Error(housing.how);
      expect(housing).toMatchObject({ part: 'H-254-24', from: 24, onHand: 1 });
      expect(housing.share.strip.cuts.map((c) => c.lost)).toEqual([10, 18]);
      expect(housing.share).toMatchObject({ first: 'A3J6', proven: true, gap: '', kept: [] });
    }
    expect(plans.map((p) => p.housing.how === 'shared' && [p.housing.positions, ...p.housing.share.others])).toEqual([
      [9, 'A9J1', 'A3J5'],
      [7, 'A3J6', 'A3J5'],
      [6, 'A3J6', 'A9J1'],
    ]);
  });

  it('need it once: the first plan counts it, the others name it', () => {
    const needs = plans.map((p) => p.needs.find((n) => n.part === 'H-254-24'));
    expect(needs.map((n) => [n?.quantity, n?.note])).toEqual([
      [1, 'cut to 9, 7 and 6 for A3P6, A9P1 and A3P5'],
      [0, 'counted in the plan for A3P6'],
      [0, 'counted in the plan for A3P6'],
    ]);
    expect(line(tally, 'H-254-24')).toMatchObject({
      needed: 1,
      short: 0,
      from: ['connector plan A3J6', 'connector plan A9J1', 'connector plan A3J5'],
    });
  });

  it('take the terminals that each of them takes', () => {
    const each = plans.flatMap((p) => p.terminals).filter((t) => t.part === 'T-254-S');
    expect(line(tally, 'T-254-S')?.needed).toBe(each.reduce((sum, t) => sum + t.total, 0));
  });

  it('tell each bench how the strip is cut', () => {
    const cut = plans.map((p) => p.steps.find((s) => s.id === 'cut')?.detail);
    expect(new Set(cut).size).toBe(1);
    expect(cut[0]).toContain('saw through 10 and 18: A3P6 is 1 to 9, A9P1 is 11 to 17, A3P5 is 19 to 24; nothing left over');
    expect(plans[0]?.cautions.map((c) => c.id)).toContain('blade');
  });

  it('are told to the customer with the housing once', () => {
    const tick = { by: 'Wen', at: '2026-11-21T14:31:00.000Z' };
    const done = three.map((state, i) => ({ ...state, ...Object.fromEntries(plans[i]!.steps.map((s) => [`tick.${s.id}`, tick])) }));
    const { page } = evaluate(done);
    const parts = page.widgets.map((w) => w.definition?.writeUp?.(w.model).parts?.filter((p) => p.part === 'H-254-24') ?? []);
    expect(parts.map((p) => p.length)).toEqual([1, 0, 0, 0]);
  });
});

describe('the job', () => {
  it('is not asked for one connector: that plans as before', () => {
    const { plans } = evaluate([{ header: 'A3J6' }]);
    expect(plans[0]?.housing).toMatchObject({ how: 'cut', part: 'H-254-24', offcut: 14 });
    expect(plans[0]?.job).toBeNull();
    const beside = evaluatePage(content([{ header: 'A3J6' }, { header: '' }]), context); // another, not chosen yet
    expect(modelOf<PlanModel>(beside.widgets[0]).result).toMatchObject({ ok: true, plan: { job: null } });
  });

  it('is solved once an evaluation, and not at all when no widget asks', () => {
    planHousings.mockClear();
    evaluate(three);
    expect(planHousings).toHaveBeenCalledTimes(1);
    planHousings.mockClear();
    evaluatePage(content([]), context);
    evaluatePage(content([{ header: 'A3J6' }], false), context);
    expect(planHousings).not.toHaveBeenCalled();
  });

  it('holds one header planned twice as two plugs', () => {
    const { plans, tally } = evaluate([{ header: 'A3J6' }, { header: 'A3J6' }]);
    expect(plans.map((p) => p.job?.housing?.place.id)).toEqual(['A3J6', 'A3J6 (2)']);
    expect(line(tally, 'H-254-24')?.needed).toBe(1); // 9 + 9 and a cut are 19 of 24
  });

  it('leaves out what the chart does not have and what cannot be read', () => {
    const page = evaluatePage(content([{ header: 'A9J9' }, { header: 'A3J6', saveKey: 'yes' }, { header: 'A3J5' }]), context);
    const [unknown, refused, alone] = page.widgets;
    expect(modelOf<PlanModel>(unknown).result?.ok).toBe(false);
    expect(refused?.error).toContain('saveKey');
    expect(modelOf<PlanModel>(alone).result).toMatchObject({ ok: true, plan: { job: null, housing: { how: 'cut' } } });
  });

  it('refuses one connector and plans the others', () => {
    const catalogue = { ...only24, parts: only24.parts.filter((p) => p.id !== 'H-254-24') };
    const { plans } = evaluate(three, { ...context, catalogue });
    expect(plans.map((p) => [p.housing.how, p.job?.housing])).toEqual([
      ['none', null],
      ['none', null],
      ['none', null],
    ]);
  });

  it('cuts the new headers from one strip too: 36 scored gives 9 and 7', () => {
    const { plans, tally } = evaluate([
      { header: 'A3J6', headerSide: 'replace' },
      { header: 'A9J1', headerSide: 'replace' },
      { header: 'A3J5' },
    ]);
    expect(plans.map((p) => p.newHeader?.share?.others)).toEqual([['A9J1'], ['A3J6'], undefined]);
    expect(plans.flatMap((p) => p.needs.filter((n) => n.part === 'R-254-36').map((n) => [n.quantity, n.note]))).toEqual([
      [1, 'cut to 9 and 7 for A3J6 and A9J1, 20 positions kept'],
      [0, 'counted in the plan for A3J6'],
    ]);
    expect(line(tally, 'R-254-36')).toMatchObject({ needed: 1, short: 0 });
    expect(plans[1]?.steps.find((s) => s.id === 'header')?.detail).toMatch(/^One R-254-36 serves A3J6 and A9J1: break behind 9 and 16/);
  });

  it('takes what is on hand for the first, and says what is to be bought', () => {
    const stock = { 'H-254-9': 1 };
    const { plans, tally } = evaluate([{ header: 'A3J6' }, { header: 'A3J6' }], {
      ...context,
      catalogue: without('H-254-16', 'H-254-20', 'H-254-11'),
      stock,
    });
    expect(plans.map((p) => p.housing.how).sort()).toEqual(['exact', 'order']);
    expect(line(tally, 'H-254-9')).toMatchObject({ needed: 2, onHand: 1, short: 1 });
  });

  it('of a widget whose state is newer than the page takes the newer', () => {
    const page = evaluatePage(content(three), context);
    const widgets = page.widgets.map((w) => (w.id === 'p2' ? { ...w, state: { header: '' } } : w));
    expect(
      widgetContext(widgets, 'p0', context)
        .job()
        ?.housings.connectors.map((c) => c.id),
    ).toEqual(['A3J6', 'A9J1']);
    expect(widgetContext(widgets, 'p2', context).job()?.own).toEqual([]);
  });
});

describe('what other jobs have reserved', () => {
  const shelf = { ...context, catalogue: fixtureCatalogue, stock: { 'H-254-9': 1, 'H-254-16': 2, 'T-254-S': 100, 'K-254': 1 } };
  const other = { page: 'p2', title: 'Spinner', pieces: 1 };
  const spoken = { here: {}, elsewhere: { 'H-254-9': 1 }, used: {}, holders: { 'H-254-9': [other] } };
  const planOf = (from: PageContext, states: WidgetState[] = [{ header: 'A3J6' }]) => {
    const page = evaluatePage(content(states, false), from);
    return page.widgets.map((widget) => modelOf<PlanModel>(widget));
  };
  const how = (models: PlanModel[]) =>
    models.map(({ result }) => result?.ok && [result.plan.housing.how, 'part' in result.plan.housing && result.plan.housing.part]);

  it('is not planned with: the plan cuts a longer one, and says who has the one that fits', () => {
    expect(how(planOf(shelf))).toEqual([['exact', 'H-254-9']]);
    const models = planOf({ ...shelf, reserved: spoken });
    expect(how(models)).toEqual([['cut', 'H-254-16']]);
    expect(models[0]?.spoken).toEqual([{ part: 'H-254-9', name: expect.any(String), free: 0, holders: [other] }]);
  });

  it('does not stand in the way of the job that has it, nor of one that took it', () => {
    expect(how(planOf({ ...shelf, reserved: { here: { 'H-254-9': 1 }, elsewhere: {}, used: {} } }))).toEqual([['exact', 'H-254-9']]);
    const taken = { ...shelf, stock: { ...shelf.stock, 'H-254-9': 0 }, reserved: { here: {}, elsewhere: {}, used: { 'H-254-9': 1 } } };
    expect(how(planOf(taken))).toEqual([['exact', 'H-254-9']]);
  });

  it('is left out of what several connectors share', () => {
    const two = [{ header: 'A3J6' }, { header: 'A3J6' }];
    const withOne = how(planOf({ ...shelf, catalogue: without('H-254-11', 'H-254-20') }, two));
    expect(withOne.flat()).toContain('H-254-9');
    const free = how(planOf({ ...shelf, catalogue: without('H-254-11', 'H-254-20'), reserved: spoken }, two));
    expect(free).toEqual([
      ['cut', 'H-254-16'],
      ['cut', 'H-254-16'],
    ]);
  });
});

describe('halves of an in-line connector', () => {
  const orchard = indexChart(machineOf('tin-orchard'), designOf('sb-1'));
  const from: PageContext = { ...context, chart: orchard, catalogue: shape.parse(catalogueFile), stock: { 'H-254-16': 1, 'H-254-9P': 1 } };

  it('share strips with the plugs of headers, each by its contacts, and have no header to replace', () => {
    const { plans } = evaluate([{ header: 'X1B' }, { header: 'X1F', headerSide: 'replace' }, { header: 'A1J10' }], from);
    expect(plans.map((p) => [p.housingName, p.job?.housing?.place.part, p.newHeader])).toEqual([
      ['X1B', 'H-254-16', null],
      ['X1F', 'H-254-9P', null],
      ['A1P10', 'H-254-16', null],
    ]);
    expect(plans.map((p) => p.job?.housing?.others)).toEqual([['A1J10'], [], ['X1B']]);
  });
});
