/** Connector plan: everything a re-termination of one header needs, with an order of work to tick off together. */

import * as z from 'zod/mini';
import { type Choosable, headersAndHalves } from '@/lib/core/chart/half-chart';
import { splitHalf } from '@/lib/core/chart/inline';
import type { Chart } from '@/lib/core/chart/types';
import { planConnector, shareOf } from '@/lib/core/harness';
import { planHeaders, planHousings } from '@/lib/core/harness/job';
import { samePitch } from '@/lib/core/harness/pitch';
import type { PlanChoices } from '@/lib/core/harness/plan';
import type { ConnectorPlan, PlanResult } from '@/lib/core/harness/types';
import { freeFor } from '@/lib/core/parts';
import type { StockHolder } from '@/lib/core/parts/schema';
import { headerFact } from '@/lib/notebook/circuits';
import { family, stateSchema, text, tick, ticks, words, yes } from '@/lib/notebook/widget-state';
import type { Fact, PageJob, Progress, Tick, WidgetContext, WidgetDefinition, WriteUpPart } from '../definition';

export const headerSides = ['sound', 'reflow', 'replace'] as const;
export type HeaderSide = (typeof headerSides)[number];

export interface Model {
  machine: string; // title of the page's machine; empty when it has none
  chart: Chart | null;
  headers: Choosable[];
  header: string; // empty: none chosen yet
  headerSide: HeaderSide;
  saveKey: boolean;
  result: PlanResult | null; // null: nothing to plan yet
  spoken: Spoken[]; // parts of which other jobs have some reserved
  ticks: Record<string, Tick>; // by step
  seated: Record<string, Tick>; // by position
  tugged: Record<string, Tick>;
  done: number; // steps of the order of work
  of: number;
  removed?: readonly string[]; // pictures that were removed for good
}

/** What the page's job gives this plan; nothing while it is alone, or new to the page. */
function sharesOf(job: PageJob | null): Pick<PlanChoices, 'job'> {
  const own = job?.own[0];
  return job && own !== undefined ? { job: { housing: shareOf(job.housings, own), header: shareOf(job.headers, own) } } : {};
}

/** A part that it takes, or would have taken, of which other jobs have some. */
export interface Spoken {
  part: string;
  name: string;
  free: number;
  holders: readonly StockHolder[];
}
/** Of what it takes, and of housings and headers of its pitch of which others have all. */
function spokenOf(
  { needs, header, newHeader }: ConnectorPlan,
  { catalogue, stock, reserved }: Pick<WidgetContext, 'catalogue' | 'stock' | 'reserved'>,
): Spoken[] {
  const free = freeFor(stock, reserved);
  const strips = newHeader === null ? ['housing'] : ['housing', 'header'];
  return catalogue.parts.flatMap((part) => {
    const left = free[part.id] ?? 0;
    const taken = needs.some((need) => need.part === part.id);
    const missed = strips.includes(part.kind) && 'pitchMm' in part && samePitch(part.pitchMm, header.pitchMm) && left === 0;
    const holders = reserved?.holders?.[part.id] ?? [];
    return holders.length > 0 && (taken || missed) ? [{ part: part.id, name: part.name, free: left, holders }] : [];
  });
}

const planOf = (model: Model): ConnectorPlan | null => (model.result?.ok ? model.result.plan : null);
const loaded = (plan: ConnectorPlan) => plan.rows.filter((row) => !row.key && !row.empty);

function facts(model: Model): Fact[] {
  const plan = planOf(model);
  if (!plan) return model.header === '' ? [] : [headerFact(model.header)];
  // Its wires are not facts: a plan touches every line of the connector, and each would make the page answer for all of them.
  return [
    headerFact(plan.half ? (splitHalf(plan.header.id)?.connector ?? plan.header.id) : plan.header.id),
    ...plan.needs.flatMap((need): Fact[] => (need.part ? [{ kind: 'part', value: need.part, label: need.name }] : [])),
  ];
}

function progress(model: Model): Progress[] {
  const plan = planOf(model);
  if (!plan) return [];
  const rows = loaded(plan);
  const moved = rows.filter(({ position }) => model.seated[position] && model.tugged[position]).length;
  return [
    { label: 'Order of work', done: model.done, of: model.of },
    { label: 'Wires seated and tugged', done: moved, of: rows.length },
  ];
}

/** Cautions that concern whoever opens the machine next; the others are for the bench. */
const forTheOwner = ['mains', 'high-voltage', 'stored-charge'];

/** Only finished work is told; a plan that nobody has begun concerns the bench alone. */
function writeUp(model: Model): WriteUpPart {
  const plan = planOf(model);
  if (!plan || model.done === 0) return {};
  const cautions = plan.cautions.filter((c) => forTheOwner.includes(c.id)).map((c) => `${c.title}. ${c.text}`);
  if (model.done < model.of) return { cautions };
  const wires = loaded(plan).length;
  return {
    done: [
      `Made a new ${plan.half ? `half of the in-line connector (${plan.half.title})` : `plug ${plan.housingName}`} with crimped contacts and moved its ${wires} wired ${wires === 1 ? 'position' : 'positions'} across one at a time.`,
      ...(model.headerSide === 'reflow' ? [`Remade the solder joints under header ${plan.header.id}.`] : []),
      ...(model.headerSide === 'replace' ? [`Replaced header ${plan.header.id} on the board.`] : []),
    ],
    parts: plan.needs
      .filter((need) => need.quantity > 0)
      .map(({ part, name, quantity }) => ({ ...(part && { part }), name, quantity, planned: true as const })),
    cautions,
  };
}

function markdown(model: Model): string {
  const plan = planOf(model);
  if (!plan) return model.result && !model.result.ok ? `${model.result.message} ${model.result.mend}` : '';
  return [
    `**Connector plan ${plan.housingName}**, ${plan.header.positions} positions, ${plan.header.pitchMm} mm`,
    '',
    ...plan.cautions.map((c) => `> **${c.title}.** ${c.text}\n`),
    ...plan.asFound.map(
      ({ found, where }) =>
        `- Otherwise in this machine, ${where}: ${found.here}${found.wire ? `, wire ${found.wire}` : ''} (manual: ${found.manual}); ${found.by}, ${found.on}`,
    ),
    ...plan.rows.map(
      (row) =>
        `- ${row.position}: ${row.wires.map((w) => w.colour).join(' and ') || row.label}${row.found ? ` (found here: ${row.found.join(' and ')})` : ''}${row.goesTo ? `, to ${row.goesTo}` : ''}${row.pigtail?.chosen ? `, on a pigtail of ${row.pigtail.awg} AWG` : ''}`,
    ),
    '',
    ...plan.steps.map((step, index) => `${index + 1}. ${step.title}${model.ticks[step.id] ? ` (${model.ticks[step.id]?.by})` : ''}`),
  ].join('\n');
}

const definition: WidgetDefinition<Model> = {
  kind: 'connector-plan',
  state: stateSchema(
    { header: words, headerSide: z.enum(headerSides, { error: `write ${headerSides.join(', ')}` }), saveKey: yes },
    { tick, seat: tick, tug: tick, pigtail: yes },
  ),
  compute(state, { chart, catalogue, stock, reserved, job, removed }) {
    const header = text(state, 'header');
    const headerSide = headerSides.find((side) => side === state.headerSide) ?? 'sound';
    const saveKey = state.saveKey === true;
    const pigtails = family<boolean>(state, 'pigtail').flatMap(([position, on]) => (on === true ? [Number(position)] : []));
    const result =
      chart && header !== ''
        ? planConnector(chart, header, catalogue, freeFor(stock, reserved), { headerSide, saveKey, pigtails, ...sharesOf(job()) })
        : null;
    const done = ticks(state, 'tick');
    const steps = result?.ok ? result.plan.steps : [];
    return {
      machine: chart?.title ?? '',
      chart,
      headers: chart ? headersAndHalves(chart) : [],
      header,
      headerSide,
      saveKey,
      result,
      spoken: result?.ok ? spokenOf(result.plan, { catalogue, stock, reserved }) : [],
      ticks: done,
      seated: ticks(state, 'seat'),
      tugged: ticks(state, 'tug'),
      done: steps.filter((step) => done[step.id]).length,
      of: steps.length,
      ...(removed && { removed }),
    };
  },
  facts,
  planJob: { housings: planHousings, headers: planHeaders },
  headers(state) {
    const id = text(state, 'header');
    return id === '' ? [] : [{ id, replace: state.headerSide === 'replace' }];
  },
  needs: (model) => planOf(model)?.needs ?? [],
  progress,
  writeUp,
  markdown,
};
export default definition;
