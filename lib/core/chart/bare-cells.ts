/** Cells of the switch matrix without a switch. The board reads them like any other, and the machine's test shows their numbers. */
import { matrixSize, printedNumber } from './numbering';
import type { Chart } from './types';

export interface BareCell {
  number: string; // as the test shows it
  column: number;
  row: number;
}

/** All of them, by column then row; one whose number is that of a switch, or of one before it, is left out. */
export function bareCells({ machine, design, columns, rows, circuits, circuit }: Chart): BareCell[] {
  const size = matrixSize(design);
  const taken = new Set(circuits.map(({ column, row }) => `${column} ${row}`));
  const cells = columns.flatMap((column) =>
    rows.flatMap((row) =>
      taken.has(`${column} ${row}`) ? [] : [{ number: printedNumber(machine.numbering, column, row, size), column, row }],
    ),
  );
  return cells.filter(({ number }, k) => !circuit.has(number) && cells.findIndex((other) => other.number === number) === k);
}
