/** What one reading of a table collects: questions with their answers, findings, cells that were not understood. */
import type { Net, Wire } from '../../schema';
import type { Answers, EntryChart, NotUnderstood, Put, Question, TableFinding, Understood } from '../types';
import type { LineIndex, LineParts } from './lines';
import type { PinRead } from './pins';

export interface At {
  row: number;
  column: number;
}

export interface Reading {
  chart: EntryChart;
  answers: Answers;
  asks: Question[];
  not: NotUnderstood[];
  findings: TableFinding[];
}

export const newReading = (chart: EntryChart, answers: Answers): Reading => ({ chart, answers, asks: [], not: [], findings: [] });

/** The answer where there is one; else the question is put once, and its guess serves until then. */
export function ask(reading: Reading, question: Question): string | undefined {
  const given = reading.answers[question.id];
  if (given !== undefined && question.choices.some((c) => c.value === given)) return given;
  if (!reading.asks.some((q) => q.id === question.id)) reading.asks.push(question);
  return question.guess;
}

export const notUnderstood = (reading: Reading, at: At, text: string, why: string): void => {
  reading.not.push({ row: at.row, column: at.column, text: text.length > 120 ? `${text.slice(0, 120)}…` : text, why });
};

export const found = (reading: Reading, level: TableFinding['level'], rule: string, at: At, message: string, mend: string): void => {
  reading.findings.push({ level, rule, ...at, message, mend });
};

export interface Collected {
  reading: Reading;
  lines: LineIndex;
  rows: Understood[];
  said: Set<string>; // facts of lines and pins that stand in `rows`, and cells already reported
}

export const newCollection = (reading: Reading, lines: LineIndex): Collected => ({ reading, lines, rows: [], said: new Set() });

export const put = (to: Collected, at: At, what: Put): void => {
  to.rows.push({ at: { row: at.row, column: at.column }, put: what });
};

/** A cell that was not understood, once. */
export function refuse(to: Collected, at: At, text: string, why: string): void {
  const key = `not ${at.row} ${at.column} ${text}`;
  if (to.said.has(key)) return;
  to.said.add(key);
  notUnderstood(to.reading, at, text, why);
}

/** What a table says of a line by the way: its colour, its part on the board, its gauge. */
export function putLine(to: Collected, at: At, id: string, fields: Partial<Net>): void {
  const entries = Object.entries(fields).filter(([field, value]) => {
    const key = `line ${id} ${field} ${String(value)}`;
    if (value === undefined || to.said.has(key)) return false;
    to.said.add(key);
    return true;
  });
  if (entries.length > 0) put(to, at, { what: 'line', id, fields: Object.fromEntries(entries) });
}

/** What a table says of a pin, once. */
export function putPin(to: Collected, at: At, { header, position }: PinRead, net: string, wires?: Wire[]): void {
  const key = `pin ${header}-${position} ${net} ${wires ? JSON.stringify(wires) : ''}`;
  if (to.said.has(key)) return;
  to.said.add(key);
  put(to, at, { what: 'pin', header, position, net, ...(wires && { wires }) });
}

/** Pins and part that stand in the cell of a line. */
export function putParts(to: Collected, at: At, id: string, parts: LineParts): void {
  for (const pin of parts.pins) putPin(to, at, pin, id);
  if (parts.part) putLine(to, at, id, { part: parts.part });
}

/** Words that say that a place is empty on purpose. */
export const isUnusedWord = (text: string): boolean =>
  /^(?:-+|–|—|n\/?[au]|not\s+(?:used|fitted|connected)|unused|spare|blank|none|empty|open)\.?$/i.test(text.trim());

/** Names that name nothing: the place is empty, or whoever wrote the table did not know. */
export const isNoName = (text: string): boolean => isUnusedWord(text) || /^\?+$/.test(text.trim());
