/** Entering a chart by paste: the table as read, what it was understood to be, what is asked. Rows and columns are counted from 1, as a spreadsheet shows them. */
import type {
  BoardDesign,
  Chain,
  DirectSwitch,
  Header,
  Illumination,
  InlineConnector,
  InlinePin,
  Lamp,
  Load,
  Machine,
  MatrixSwitch,
  Net,
  Numbering,
  Wire,
} from '../schema';

/** The chart that is filled: a machine and the board design it stands on (`blankChart` for a design that has no machine yet). */
export interface EntryChart {
  machine: Machine;
  design: BoardDesign;
}

/** What was found in a table, by its row and column (0: the table as a whole). */
export interface TableFinding {
  level: 'error' | 'warning' | 'information';
  rule: string;
  row: number;
  column: number;
  message: string;
  mend: string;
}

export const delimiters = ['\t', ',', ';', '|'] as const;
export type Delimiter = (typeof delimiters)[number];

export interface Table {
  delimiter: Delimiter;
  /** Cells as written, without their quotes; rows may be of unequal length. */
  rows: string[][];
  findings: TableFinding[];
}

/** `strings`: general illumination; `harness`: what stands behind each tap, splices too, a step a row. */
export const tableKinds = [
  'switch-matrix',
  'lamp-matrix',
  'switches',
  'lamps',
  'loads',
  'strings',
  'pins',
  'harness',
  'headers',
  'lines',
  'unknown',
] as const;
export type TableKind = (typeof tableKinds)[number];

export const meanings = [
  'number',
  'name',
  'column',
  'row',
  'columnWire',
  'rowWire',
  'columnPin',
  'rowPin',
  'line',
  'wire',
  'pin',
  'header',
  'position',
  'goesTo',
  'device',
  'normally',
  'location',
  'diode',
  'driver',
  'supply',
  'back',
  'lampCount',
  'taps',
  'emitterSupply',
  'optoBoard',
  'also',
  'step',
  'what',
  'fuse',
  'loadKind',
  'lampKind',
  'ohms',
  'volts',
  'amps',
  'gauge',
  'positions',
  'pitch',
  'keys',
  'plating',
  'termination',
  'pinsOn',
  'half',
  'farWire',
  'pinRows',
  'pinNumbering',
  'skipLetters',
  'keyCounted',
  'pinMm',
  'pinShape',
  'lock',
  'parallel',
  'holdOhms',
  'windings',
  'flyback',
  'pulsed',
  'predriver',
  'nature',
  'fuseHolder',
  'interlock',
  'insulation',
  'strands',
  'strandGauge',
  'strandMm',
  'wireNote',
  'stored',
  'bleeder',
  'duty',
  'run',
  'rowHead',
  'cells',
  'unused',
] as const;
export type Meaning = (typeof meanings)[number];

/** What one column of a table is taken for. `sure` runs from 0 to 1. */
export interface ColumnMeaning {
  index: number; // from 1
  meaning: Meaning;
  sure: number;
  why: string;
}

/** A question that one choice answers; the id is the key of its answer. Without a guess, what hangs on it waits. */
export interface Question {
  id: string;
  text: string;
  choices: { value: string; label: string }[];
  guess?: string;
  why: string;
  at: { row: number; column: number }; // the first cell that raises it
}
export type Answers = Readonly<Record<string, string>>;

/** What one row, or one cell of a matrix, puts into the chart. */
export type Put =
  | { what: 'switch'; column: number; row: number; fields: Partial<MatrixSwitch> }
  | { what: 'direct'; number: string; net?: string; fields: Partial<DirectSwitch> }
  | { what: 'lamp'; column: number; row: number; fields: Partial<Lamp> }
  | { what: 'load'; number: string; net?: string; fields: Partial<Load> }
  | { what: 'string'; id: string; fields: Partial<Illumination> }
  | { what: 'line'; id: string; fields: Partial<Net> }
  | { what: 'pin'; header: string; position: number; net?: string; wires?: Wire[] }
  | { what: 'header'; id: string; fields: Partial<Header> }
  | { what: 'inline'; id: string; fields: Partial<InlineConnector> }
  | { what: 'inlinePin'; pin: string; fields: Partial<InlinePin> }
  | { what: 'chain'; tap: string; steps: Chain['steps'] };

export interface Understood {
  /** The cell that says it; several puts may come of one row. */
  at: { row: number; column: number };
  put: Put;
}

/** A cell that was not understood, or waits for an answer. */
export interface NotUnderstood {
  row: number;
  column: number;
  text: string;
  why: string;
}

export interface Understanding {
  kind: TableKind;
  sure: number;
  why: string;
  /** How many rows at the top are titles and headings; the body begins below. */
  headRows: number;
  columns: ColumnMeaning[];
  /** What is put into the chart when it is applied as it stands; it holds the guesses of open questions. */
  rows: Understood[];
  /** How the numbers of this table are printed, when that is not the machine's scheme. */
  numbering?: Numbering;
  /** Only what neither the table nor the chart could decide. */
  asks: Question[];
  not: NotUnderstood[];
  /** Those of the table, and what was noticed in reading it. */
  findings: TableFinding[];
}
