/** What is counted in a proof: presses before the mend, runs after it, misses that end them, quiet hours. */

/**
 * Presses in one minute are one sample of the conditions, so a proof is spread over these (common practice, no source).
 * `made` follows "presses made".
 */
export const conditions = [
  { id: 'cold', name: 'cold', made: 'cold' },
  { id: 'warm', name: 'warm, 30\u00a0min', made: 'warm' },
  { id: 'coils', name: 'coils firing', made: 'with coils firing' },
  { id: 'ball', name: 'by ball', made: 'by ball' },
] as const;
export type Condition = (typeof conditions)[number];
export type ConditionId = Condition['id'];
export const conditionOf = (id: unknown): Condition | null => conditions.find((c) => c.id === id) ?? null;

export interface Miss {
  condition: ConditionId;
  by: string;
  at: string; // ISO time
}
/** Clean presses in a row. `misses` end it; the run that goes on has none, an ended one has several when more people saw one at a time. */
export interface Run {
  clean: Record<ConditionId, number>;
  misses: Miss[];
}
export interface ProofRecord {
  what: string; // "46 Spinner", or empty
  before: { missed: number; presses: number };
  runs: Run[]; // in order; only the last goes on, so at least one
  hours: { run: number; events: number }; // watched for what comes by itself; 0 hours: not watched
}

export const noPresses = (): Record<ConditionId, number> => ({ cold: 0, warm: 0, coils: 0, ball: 0 });
export const cleanOf = (run: Run): number => conditions.reduce((sum, { id }) => sum + run.clean[id], 0);
