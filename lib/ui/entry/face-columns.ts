/** Columns for the face of a connector: what two halves must have alike to go together. */
import { platingWords, terminationWords } from '@/lib/core/chart/entry/read/synonyms';
import { choice, number, numbers, text, yesNo } from './cell-types';
import type { ColumnSpec } from './types';

export const faceColumns: readonly ColumnSpec[] = [
  { path: 'positions', head: 'Positions', type: number, width: 'narrow', need: true },
  { path: 'pitchMm', head: 'Pitch, mm', type: choice([2, 2.5, 2.54, 3.96, 5.08]), width: 'narrow', need: true },
  { path: 'keys', head: 'Keys at', type: numbers },
  { path: 'plating', head: 'Plating', type: choice(['tin', 'gold'], platingWords), need: true },
  {
    path: 'termination',
    head: 'Wires are',
    type: choice(['insulation-displacement', 'crimp', 'soldered'], terminationWords),
    need: true,
  },
  { path: 'rows', head: 'Rows', type: choice([1, 2]), width: 'narrow' },
  { path: 'numbering', head: 'Positions run', type: choice(['along', 'zigzag', 'per-row', 'lettered']) },
  { path: 'skipLetters', head: 'Letters left out', type: text },
  { path: 'keyCounted', head: 'Key counted', type: yesNo, width: 'narrow' },
  { path: 'pinMm', head: 'Pin, mm', type: number, width: 'narrow' },
  { path: 'pinShape', head: 'Pin shape', type: choice(['square', 'round']) },
  { path: 'lock', head: 'Lock', type: choice(['friction', 'shroud', 'none']) },
];
