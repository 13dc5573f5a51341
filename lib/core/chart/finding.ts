/** How the lint states what it found. */
import type { Finding } from './types';

const finding =
  (level: Finding['level']) =>
  (rule: string, path: string, message: string, mend: string): Finding => ({ level, rule, path, message, mend });

/** The chart contradicts itself or leaves a question open that work depends on. */
export const error = finding('error');
/** Possible, but more often a slip; also what is easily mixed up at the bench. */
export const warning = finding('warning');
/** Nothing to mend; worth knowing at the bench. */
export const information = finding('information');
