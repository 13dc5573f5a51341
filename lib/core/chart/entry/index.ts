/**
 * Entering a chart by paste, and charts out to files and in again. Everything is pure and never throws on what people give.
 *
 *     const table = readTable(textOrBytes);                  // rows of cells, with findings
 *     const read = understand(table, chart, answers);        // what each column, row and cell means; what is asked
 *     const marks = marksOf(table, read);                    // the same cell by cell, to colour a grid
 *     const { chart: next, changes, findings, lint } = applyTable(chart, read, { conflicts: 'keep' });
 *
 * A question has an id; call `understand` again with `{ ...answers, [id]: value }`. Columns are corrected the same way, with the answer
 * `column.3: 'name'` (any of `meanings`), and the kind of the table with `kind: 'loads'` (any of `tableKinds` but `unknown`).
 *
 * Each of the three has a form in steps for the screen, none of which blocks for long:
 *
 *     const steps = understandInSteps(table, chart, answers);
 *     function frame() {
 *       const until = performance.now() + 8;
 *       const at = advance(steps, () => performance.now() < until);
 *       if (at.done) show(at.value); else requestAnimationFrame(frame);
 *     }
 *
 * Files: `exportTables`/`importTables` (one CSV a table) and `exportJson`/`importJson` (one file; its JSON Schema is `chartSchema`). What is
 * exported and imported again is the same chart, field by field; a board design can be exported without a machine.
 */
export { type Applied, applyTable, applyTableInSteps, type Conflicts } from './apply';
export { blankChart, emptyDesign, emptyMachine, lintMissing, type NewDesign, type NewMachine } from './empty';
export { type ChartFile, type CsvFile, exportTables } from './files/export';
export { importTables } from './files/import';
export { chartSchema, exportJson, importJson } from './files/json';
export { type CellMark, type Mark, marksOf } from './marks';
export { type LinePlace, type MatrixPlace, type PlaceLine, type Places, placesOf } from './places';
export { advance, finish, type Steps } from './steps';
export { mostCharacters, mostColumns, mostRows, readTable, readTableInSteps } from './table/read-table';
export * from './types';
export { understand, understandInSteps } from './understand';
