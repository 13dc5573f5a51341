/**
 * What a widget is. One folder a widget: `definition.ts` exports one object of this shape, `view.tsx` renders its model.
 * The editor, the server's indexer, Markdown export and the write-up all use the same object.
 */
import type { ZodMiniType } from 'zod/mini';
import type { Chart } from '@/lib/core/chart/types';
import type { FixCounts } from '@/lib/core/diagnosis';
import type { Job, JobConnector } from '@/lib/core/harness/job-types';
import type { Catalogue, Need, Reserved, Stock } from '@/lib/core/parts/schema';

/** Shared state: flat keys, plain JSON values; what people chose and ticked, never a result. */
export type WidgetState = Readonly<Record<string, unknown>>;

/** A tick: who and when. Stored under `tick.<step>`. */
export interface Tick {
  by: string;
  at: string; // ISO time
}

/** Everything outside its own state that a widget may compute from. */
export interface WidgetContext {
  chart: Chart | null; // null: the page belongs to no machine
  catalogue: Catalogue;
  stock: Stock;
  /** What of the stock is spoken for, seen from this page. Absent: nothing. */
  reserved?: Reserved;
  /** Hashes of pictures that were removed for good. Absent: none. */
  removed?: readonly string[];
  /** Proven fixes of the club on this machine's board design, by fault class; empty without a machine. */
  record: FixCounts;
  /** What the other widgets of the page need, in page order. */
  needs: () => Need[];
  /** What the proof tests of the page tell so far, in page order. */
  proofs: () => string[];
  /** One plan for all connectors of the page, solved when first asked for; null while the page plans fewer than two. */
  job: () => PageJob | null;
}
/** What the page itself is given; the rest comes from its other widgets. */
export type PageContext = Omit<WidgetContext, 'needs' | 'proofs' | 'job'>;

/** A connector that a widget plans: its header, and whether that is made new too. */
export interface PlannedHeader {
  id: string; // A3J4, or a half of an in-line connector: X1F
  replace: boolean;
}
export interface JobPlanners {
  housings(connectors: readonly JobConnector[], catalogue: Catalogue, stock: Stock): Job;
  headers(connectors: readonly JobConnector[], catalogue: Catalogue, stock: Stock): Job;
}
/** The connectors of a page together. */
export interface PageJob {
  own: string[]; // ids in the job of the connectors of the widget that asks, in the order of its `headers`
  housings: Job;
  headers: Job; // new board headers; without connectors when none is replaced
}

export const factKinds = [
  'symptom',
  'circuit',
  'wire',
  'pin',
  'header',
  'board-design',
  'machine',
  'fault',
  'part',
  'outcome',
  'sibling',
  'text',
] as const;
export type FactKind = (typeof factKinds)[number];
/** One thing a page is about. `value` is canonical and compared exactly; `label` is shown. */
export interface Fact {
  kind: FactKind;
  /** wire: `grey/orange`; pin: `A3J4-7`; header: `A3J4`; circuit: `46` (number as printed); board-design: `SB-2`; machine: id; fault: class id; part: id; symptom/text: words */
  value: string;
  label: string;
}

/** A row of the margin's open ticks: "Order of work 7 of 12". */
export interface Progress {
  label: string;
  done: number;
  of: number;
}

/** What one widget adds to the customer's write-up, in plain CommonMark. Absent parts are left out. */
export interface WriteUpPart {
  complaint?: string;
  found?: string;
  done?: string[];
  proof?: string;
  minutes?: number;
  parts?: PutIn[];
  photos?: ShownPhoto[];
  cautions?: string[];
  watch?: string;
}

/** A part that went into the machine. `planned`: so a plan reckoned; what was noted afterwards counts before it. */
export interface PutIn {
  part?: string; // catalogue id
  name: string;
  quantity: number;
  planned?: true;
}

/** Something drawn on a photo. Places are fractions of its width and height from its top left corner. */
export interface ShownMark {
  sort: 'arrow' | 'number' | 'pin';
  number: number; // 0 unless it is a number
  from: { x: number; y: number } | null; // where an arrow begins
  to: { x: number; y: number };
  label: string;
}
export interface ShownPhoto {
  picture: string; // hash
  width: number; // upright, in pixels
  height: number;
  caption: string;
  marks: ShownMark[];
  removed?: true; // for good
}

export interface WidgetDefinition<Model = unknown> {
  kind: string; // stable id, kebab-case; the name of its folder
  /** Validates shared state at the boundary. Unknown keys are kept. */
  state: ZodMiniType<Record<string, unknown>>;
  compute(state: WidgetState, context: WidgetContext): Model;
  facts(model: Model): Fact[];
  needs?(model: Model): Need[];
  /** Headers whose housings it plans, for the page's job, and how that job is planned: it comes with the widget, as the planner weighs. */
  headers?(state: WidgetState): PlannedHeader[];
  planJob?: JobPlanners;
  /** What it proves so far, in words; empty: nothing yet. */
  proof?(model: Model): string;
  progress?(model: Model): Progress[];
  writeUp?(model: Model): WriteUpPart;
  /** Hashes of the pictures that it shows: the page holds them. */
  pictures?(model: Model): string[];
  /** Plain CommonMark for readers of an export; the fenced block carries the state itself. */
  markdown(model: Model): string;
}

/** How a view changes shared state. Absent when reading only. */
export interface WidgetActions {
  set(key: string, value: unknown): void;
  remove(key: string): void;
  /** Writes or removes a tick of this writer under the key; `also` is what the tick says beside who and when. */
  tick(key: string, on: boolean, also?: Readonly<Record<string, unknown>>): void;
  /**
   * Adds one to this writer's own counter under `<key>.<writer>`, so that what several people count at once adds up. −1 takes one back, whoever
   * counted it, unless nothing is left to take. Each is one step of undo.
   */
  count(key: string, by: 1 | -1): void;
  /** Several keys at once, one step of undo apart from what comes before and after. A value of undefined removes its key. */
  step(changes: Readonly<Record<string, unknown>>): void;
}
export interface WidgetViewProps<Model> {
  id: string;
  model: Model;
  state: WidgetState;
  page?: string; // id of the page it stands on; absent where the page is of the past
  act?: WidgetActions;
}
