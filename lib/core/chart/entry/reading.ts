/** What one reading of a table collects: questions with their answers, findings, cells that were not understood. */
import type { Answers, EntryChart, NotUnderstood, Question, TableFinding } from './types';

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
  reading.not.push({ ...at, text: text.length > 120 ? `${text.slice(0, 120)}…` : text, why });
};

export const found = (reading: Reading, level: TableFinding['level'], rule: string, at: At, message: string, mend: string): void => {
  reading.findings.push({ level, rule, ...at, message, mend });
};
