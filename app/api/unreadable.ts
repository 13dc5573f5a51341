import type { Finding } from '@/lib/core/chart/types';
import { problem } from '@/lib/http/problem';

/** 422: a chart that cannot be read, with what is wrong by path. */
export const unreadable = (what: 'machine' | 'design', findings: readonly Finding[]) =>
  problem(
    422,
    what === 'machine' ? 'The chart cannot be read.' : 'The board design cannot be read.',
    findings.map((f) => ({ field: `${what}.${f.path}`, message: f.message, mend: f.mend })),
  );
