/** Sizes of the matrix figure, in CSS pixels. */

/**
 * `wide`: the whole matrix with names, where there is room. `large`: the same lettering on a phone, moved sideways under rows that stay.
 * `whole`: all of it on a phone at once, numbers only.
 */
export type MatrixForm = 'wide' | 'large' | 'whole';

export interface MatrixSize {
  form: MatrixForm;
  w: number; // of a cell
  h: number;
  left: number; // room of the row heads
  top: number; // room of the column heads
  dx: number; // from the left of a cell to its line
  dy: number;
  wire: number; // width
  named: boolean; // cells have room for names
}

const sheetWidth = 784; // of the cells in the wide form
const leastNamed = 90; // a cell narrower than this has its number only

export function matrixSize(form: MatrixForm, columns: number, twoLines: boolean): MatrixSize {
  if (form === 'whole') return { form, w: 44, h: 56, left: 38, top: 84, dx: 8, dy: 13, wire: 8, named: false };
  if (form === 'large') return { form, w: 104, h: twoLines ? 84 : 70, left: 66, top: 92, dx: 14, dy: 14, wire: 11, named: true };
  const w = Math.max(44, Math.min(98, Math.floor(sheetWidth / Math.max(1, columns))));
  const named = w >= leastNamed;
  return { form, w, h: twoLines && named ? 78 : 64, left: 138, top: 104, dx: 15, dy: 14, wire: 10, named };
}
