/** Rows of pins. A housing of one row does not go on a header of two, nor the other way round. */
import type { StripPart } from './cutting-strips';

/** Rows of a header or of a part for it; what nobody wrote down has one. */
export const pinRows = ({ rows }: { rows?: 1 | 2 | undefined }): 1 | 2 => rows ?? 1;

/** "10 positions", "10 positions in two rows". */
export const positionsWords = (shape: { positions: number; rows?: 1 | 2 | undefined }): string =>
  `${shape.positions} positions${pinRows(shape) === 2 ? ' in two rows' : ''}`;

/** Parts with as many rows as the header. Those of two rows are taken whole: a cut would take a pair of positions, across both rows. */
export const ofRows = <P extends StripPart & { rows?: 1 | 2 | undefined }>(
  parts: readonly P[],
  header: { rows?: 1 | 2 | undefined },
): P[] => parts.filter((p) => pinRows(p) === pinRows(header)).map((p) => (pinRows(p) === 2 ? { ...p, cut: 'no' } : p));
