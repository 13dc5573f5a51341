/** How far bringing an archive in is. */

export const steps = ['looking', 'pictures', 'keeping', 'finding'] as const;
/** looking: what is here already; keeping: charts, pages and stock, in one transaction; finding: pages are indexed. */
export type Step = (typeof steps)[number];
export interface Progress {
  step: Step;
  done: number;
  of: number;
}
/** Hears of every thing that is done. */
export type Tell = (progress: Progress) => void;

/** Counts one step: each call is one thing more. */
export function counter(tell: Tell, step: Step, of: number): () => void {
  let done = 0;
  tell({ step, done, of });
  return () => tell({ step, done: ++done, of });
}
