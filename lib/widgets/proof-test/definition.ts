/** Proof test: presses counted before and after the mend, by several people at once, and what they prove. */
import * as z from 'zod/mini';
import {
  type Condition,
  type ConditionId,
  conditionOf,
  conditions,
  customerWords,
  type Miss,
  marginLines,
  noPresses,
  type Proof,
  type ProofRecord,
  proofOf,
  type Run,
} from '@/lib/core/proof';
import { named } from '@/lib/notebook/circuits';
import { counted, family, ownCount, stateSchema, text, tick, words } from '@/lib/notebook/widget-state';
import type { Fact, Progress, Tick, WidgetContext, WidgetDefinition, WidgetState, WriteUpPart } from '../definition';

export interface Model {
  what: string; // number of the switch; empty: none chosen
  proof: Proof;
  before: { missed: number | null; presses: number | null }; // as typed
  hours: { run: number | null; events: number | null };
  condition: Condition | null; // the next press counts under it
  run: number; // a press is counted under `run.<run>.<condition>`
  takeBack: string | null; // counter of the press that can be taken back under this condition
  lastMiss: string | null; // key of a miss that nothing was pressed after: it can still be taken back
  circuits: { number: string; name: string }[]; // to choose from
}

const most = 9999;
const whole = z.int('write a whole number').check(z.minimum(0, 'write a number of 0 or more'), z.maximum(most, `write ${most} or less`));
const hours = z
  .number({ error: 'write a number' })
  .check(z.minimum(0, 'write a number of 0 or more'), z.maximum(most, `write ${most} or less`));
const conditionIds = conditions.map(({ id }) => id);

const schema = stateSchema(
  {
    what: words,
    condition: z.enum(conditionIds, { error: `write ${conditionIds.join(', ')}` }),
    'before.missed': whole,
    'before.presses': whole,
    'hours.run': hours,
    'hours.events': whole,
  },
  { run: ownCount, miss: tick },
);

const number = (state: WidgetState, key: string): number | null => (typeof state[key] === 'number' ? state[key] : null);

/** A run's number and the condition in front of a key's last part; null for a key that this version does not know. */
function place(name: string): { run: number; condition: ConditionId } | null {
  const [run = '', condition] = name.split('.');
  const known = conditionOf(condition);
  return known && /^\d{1,4}$/.test(run) ? { run: Number(run), condition: known.id } : null;
}

interface SeenMiss extends Miss {
  run: number;
  key: string;
}

/** `miss.<run>.<condition>.<id>` closes its run; presses that others counted in that run at the same time stay in it. */
function missesOf(state: WidgetState): SeenMiss[] {
  return family<Tick>(state, 'miss')
    .flatMap(([name, { by, at }]) => {
      const seen = place(name);
      return seen ? [{ ...seen, by, at, key: `miss.${name}` }] : [];
    })
    .sort((a, b) => a.run - b.run || a.at.localeCompare(b.at) || a.key.localeCompare(b.key));
}

/** Where presses were counted: `run.<run>.<condition>`, each of its writers added up. */
function countersOf(state: WidgetState): { run: number; condition: ConditionId; key: string; clean: number }[] {
  const keys = new Map<string, { run: number; condition: ConditionId }>();
  for (const [name] of family(state, 'run')) {
    const at = place(name);
    if (at) keys.set(`run.${name.split('.').slice(0, 2).join('.')}`, at);
  }
  return [...keys].map(([key, at]) => ({ ...at, key, clean: counted(state, key) }));
}

/** Runs in order. Presses belong to the first closed run at or after their number, so a miss that is taken back joins what it parted. */
function runsOf(counters: ReturnType<typeof countersOf>, misses: SeenMiss[]): Run[] {
  const ends = [...new Set(misses.map(({ run }) => run)), Number.POSITIVE_INFINITY]; // the last goes on
  return ends.map((end, index) => {
    const after = ends[index - 1] ?? -1;
    const clean = noPresses();
    for (const c of counters) if (c.run > after && c.run <= end) clean[c.condition] += c.clean;
    return { clean, misses: misses.flatMap(({ run, condition, by, at }) => (run === end ? [{ condition, by, at }] : [])) };
  });
}

function compute(state: WidgetState, { chart }: WidgetContext): Model {
  const what = text(state, 'what');
  const before = { missed: number(state, 'before.missed'), presses: number(state, 'before.presses') };
  const watched = { run: number(state, 'hours.run'), events: number(state, 'hours.events') };
  const counters = countersOf(state);
  const misses = missesOf(state);
  const runs = runsOf(counters, misses);
  const open = (misses.at(-1)?.run ?? -1) + 1;
  const goingOn = counters.filter(({ run }) => run >= open);
  const condition = conditionOf(state.condition);
  const record: ProofRecord = {
    what: what === '' ? '' : named({ number: what, name: chart?.circuit.get(what)?.name ?? '' }),
    before: { missed: before.missed ?? 0, presses: before.presses ?? 0 },
    runs,
    hours: { run: watched.run ?? 0, events: watched.events ?? 0 },
  };
  const proof = proofOf(record);
  return {
    what,
    proof,
    before,
    hours: watched,
    condition,
    run: Math.max(open, ...goingOn.map(({ run }) => run)),
    takeBack: goingOn.findLast((c) => c.condition === condition?.id && c.clean > 0)?.key ?? null,
    lastMiss: proof.clean === 0 ? (misses.findLast(({ run }) => run === open - 1)?.key ?? null) : null,
    circuits: (chart?.circuits ?? []).map((c) => ({ number: c.number, name: c.name })),
  };
}

function facts({ what, proof }: Model): Fact[] {
  const told = customerWords(proof);
  return [
    ...(what ? [{ kind: 'circuit' as const, value: what, label: proof.what }] : []),
    ...(told ? [{ kind: 'text' as const, value: told, label: told }] : []),
  ];
}

/** Open until the presses are enough and each condition has some. */
function progress({ proof }: Model): Progress[] {
  if (proof.state === 'empty' || proof.state === 'refused') return [];
  const goal = proof.needed[99];
  return [
    { label: 'Proof', done: Math.min(proof.clean, goal), of: goal },
    { label: 'Proof, conditions', done: conditions.length - proof.missing.length, of: conditions.length },
  ];
}

function writeUp({ proof }: Model): WriteUpPart {
  const told = customerWords(proof);
  return told ? { proof: told } : {};
}

function markdown({ proof }: Model): string {
  const title = `**Proof test**${proof.what ? `, ${proof.what}` : ''}`;
  const runs = [...proof.ended, proof.run].map((run, index) => {
    const counts = conditions.map(({ id, name }) => `${run.clean[id]} ${name}`).join('; ');
    const missed =
      run.misses.length > 0 ? `; then missed, ${run.misses.map((m) => [conditionOf(m.condition)?.name, m.by].join(', ')).join('; ')}` : '';
    return `- Run ${index + 1}, clean: ${counts}${missed}`;
  });
  const lines = [...marginLines(proof), ...(proof.state === 'refused' ? [proof.mend] : [])].map((line) => `- ${line}`);
  return [title, '', ...lines, ...(proof.state === 'empty' ? [] : runs)].join('\n');
}

const definition: WidgetDefinition<Model> = {
  kind: 'proof-test',
  state: schema,
  compute,
  facts,
  proof: ({ proof }) => customerWords(proof),
  progress,
  writeUp,
  markdown,
};
export default definition;
