/** Designators as they are written: no zeros in front. `A3J04` would be another name for A3J4, and nothing would find it. */
import { warning } from './finding';
import type { Finding } from './types';

/** Finds a number with a zero in front, or number 0, in a board, header or pin. */
export function* lintDesignator(path: string, name: string): Generator<Finding> {
  if (!/(^|[AJX-])0/.test(name)) return;
  const plain = name.replace(/([AJX-])0+(?=\d)/g, '$1');
  const mend = /[AJX-]0(?!\d)/.test(plain) ? 'Count boards, headers and positions from 1.' : `Write ${plain}.`;
  yield warning(
    'designator-form',
    path,
    `${name} is not in the usual form: board A1, header A1J1, pin A1J1-1, in line X1-1, without zeros in front.`,
    mend,
  );
}
