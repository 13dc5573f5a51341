/** The grid of a matrix: lines across and down with wires and pins in their heads, a number and a name in each cell. */
import { parseWire } from '@/lib/core/wire/parse';
import { matrixSize, printedNumber } from '../../numbering';
import type { NetKind, Numbering } from '../../schema';
import type { Steps } from '../steps';
import type { ColumnMeaning, Understood } from '../types';
import { settleColours } from './colours';
import { type GridShape, splitCell } from './grid-shape';
import { type LineIndex, type LineParts, lineOf, splitLine } from './lines';
import { numberKey, settleNumbering } from './numbers';
import { type At, ask, found, isNoName, newCollection, put, putLine, putParts, type Reading, refuse } from './reading';

interface GridRead {
  matrix: 'switch' | 'lamp';
  why: string;
  rows: Understood[];
  columns: ColumnMeaning[];
  numbering?: Numbering;
}

interface Side {
  kind: NetKind;
  heads: { parts: LineParts; at: At; number: number; id: string }[];
}

export function* readGrid(reading: Reading, shape: GridShape, lines: LineIndex): Steps<GridRead> {
  const { design, machine } = reading.chart;
  const to = newCollection(reading, lines);
  const { matrix, turned, why } = settleSides(reading, shape, lines);
  const size = matrixSize(design, matrix);
  const top = sideOf(shape.top, turned ? 'row' : 'column');
  const side = sideOf(shape.side, turned ? 'column' : 'row');
  yield;
  const heads = [...top.heads, ...side.heads];
  const wires = heads.flatMap(({ parts, at, id }) => {
    const line = lines.byId.get(id)?.colour;
    return parts.rest === '' ? [] : [{ text: parts.rest, at, ...(line !== undefined && { line }) }];
  });
  const colours = yield* settleColours(reading, wires);
  for (const { parts, at, id } of heads) {
    const wire = parts.rest === '' ? null : colours.read(parts.rest, lines.byId.get(id)?.colour);
    if (wire && 'why' in wire) refuse(to, at, parts.rest, wire.why);
    putLine(to, at, id, { colour: wire && 'colour' in wire ? wire.colour : undefined });
    putParts(to, at, id, parts);
  }
  yield;
  const cells = shape.cells.flatMap((cell) => {
    const [a, d] = [top.heads[cell.across], side.heads[cell.down]];
    if (!a || !d) return [];
    const place = turned ? { column: d.number, row: a.number } : { column: a.number, row: d.number };
    return [{ ...splitCell(cell.text), at: { row: cell.row, column: cell.column }, place }];
  });
  const numbered = cells.flatMap(({ number, at, place }) => (number === '' ? [] : [{ number, at, cell: place }]));
  // Lamps have often numbers of their own, which a chart states one by one.
  const scheme = matrix === 'switch' ? (settleNumbering(reading, numbered, size) ?? machine.numbering) : machine.numbering;
  const unused = cells.filter(({ name }) => isNoName(name));
  if (unused[0]) {
    found(
      reading,
      'information',
      'unused-places',
      unused[0].at,
      `${unused.length} places are marked as not used or not known; they stay without a name.`,
      'Nothing to do.',
    );
  }
  for (const { number, name, at, place } of cells) {
    if (name === '' || isNoName(name)) continue;
    const off = number !== '' && numberKey(number) !== numberKey(printedNumber(scheme, place.column, place.row, size));
    const fields = { name, ...(off && { number }) };
    put(to, at, matrix === 'switch' ? { what: 'switch', ...place, fields } : { what: 'lamp', ...place, fields });
  }
  const other = matrix === 'switch' && scheme !== machine.numbering;
  return { matrix, why, rows: to.rows, columns: columnsOf(shape, turned), ...(other && { numbering: scheme }) };

  function sideOf(texts: GridShape['top'], axis: 'column' | 'row'): Side {
    const kind: NetKind = `${matrix}-${axis}`;
    const from = (axis === 'column' ? size.firstColumn : size.firstRow) ?? 1;
    const heads = texts.map(({ text, row, column }, i) => {
      const at = { row, column };
      const parts = splitLine(reading, text, [kind], at, lines);
      const naive = parseWire(parts.rest, design.stripeOrder).map((r) => (r.stripe ? `${r.base}/${r.stripe}` : r.base));
      const line = lineOf(parts, [kind], lines, naive.length === 1 ? naive[0] : undefined);
      const number = line?.number ?? parts.number ?? from + i;
      return {
        parts,
        at,
        number,
        id: line?.id ?? design.nets.find((n) => n.kind === kind && n.number === number)?.id ?? `${kind}.${number}`,
      };
    });
    return { kind, heads };
  }
}

/** Which matrix it is and which lines run across: by the words, wires, pins and numbers of its heads. */
function settleSides(reading: Reading, shape: GridShape, lines: LineIndex): { matrix: 'switch' | 'lamp'; turned: boolean; why: string } {
  const { design } = reading.chart;
  const quiet: Reading = { ...reading, asks: [], not: [], findings: [] };
  const points = (heads: GridShape['top'], kind: NetKind): number =>
    heads.reduce((sum, { text, row, column }) => {
      const parts = splitLine(quiet, text, [kind], { row, column }, lines);
      const byPin = lineOf({ pins: parts.pins, rest: '' }, [kind], lines) ? 2 : 0;
      const wires = parseWire(parts.rest).flatMap((r) => (r.stripe ? [`${r.base}/${r.stripe}`, `${r.stripe}/${r.base}`] : [r.base]));
      const byWire = design.nets.some((net) => net.kind === kind && wires.includes(net.colour)) ? 2 : 0;
      const byWord = parts.axis !== undefined && kind.endsWith(parts.axis) ? 1 : 0;
      return sum + byPin + byWire + byWord;
    }, 0);
  const ways = (['switch', 'lamp'] as const).flatMap((matrix) =>
    [false, true].map((turned) => ({
      matrix,
      turned,
      points: points(shape.top, `${matrix}-${turned ? 'row' : 'column'}`) + points(shape.side, `${matrix}-${turned ? 'column' : 'row'}`),
    })),
  );
  const of = (matrix: 'switch' | 'lamp', turned?: boolean) =>
    Math.max(...ways.filter((w) => w.matrix === matrix && (turned === undefined || w.turned === turned)).map((w) => w.points));
  const words = /\blamps?\b/i.test(shape.title) ? 'lamp' : /\bswitch(es)?\b/i.test(shape.title) ? 'switch' : null;
  let matrix: 'switch' | 'lamp' = words ?? (of('lamp') > of('switch') ? 'lamp' : 'switch');
  let why = words ? `Its title says ${words}.` : `Its heads fit the ${matrix} lines of the board design.`;
  const answered = reading.answers.kind;
  if (answered === 'switch-matrix' || answered === 'lamp-matrix') {
    matrix = answered === 'lamp-matrix' ? 'lamp' : 'switch';
    why = 'So it was answered.';
  } else if (!words && of('lamp') === of('switch')) {
    ask(reading, {
      id: 'kind',
      text: 'Is this the switch matrix or the lamp matrix?',
      choices: [
        { value: 'switch-matrix', label: 'Switches' },
        { value: 'lamp-matrix', label: 'Lamps' },
      ],
      guess: 'switch-matrix',
      why: 'Neither a title nor a wire or pin of its heads tells them apart.',
      at: { row: 1, column: 1 },
    });
    why = 'Nothing tells whether these are switches or lamps.';
  }
  const [straight, across] = [of(matrix, false), of(matrix, true)];
  if (straight !== across) return { matrix, turned: across > straight, why };
  const turned = ask(reading, {
    id: 'orientation',
    text: 'What runs across the top?',
    choices: [
      { value: 'columns', label: 'The columns' },
      { value: 'rows', label: 'The rows' },
    ],
    guess: turnedByNumbers(reading, shape, matrix) ? 'rows' : 'columns',
    why: 'The heads do not say which lines are columns.',
    at: { row: 1, column: shape.headColumns + 1 },
  });
  return { matrix, turned: turned === 'rows', why };
}

/** Numbers that fit the machine's scheme only when the grid is turned. */
function turnedByNumbers(reading: Reading, shape: GridShape, matrix: 'switch' | 'lamp'): boolean {
  const { machine, design } = reading.chart;
  const size = matrixSize(design, matrix);
  const fits = (turned: boolean) =>
    shape.cells.filter(({ text, across, down }) => {
      const [column, row] = turned ? [down + 1, across + 1] : [across + 1, down + 1];
      return numberKey(splitCell(text).number) === numberKey(printedNumber(machine.numbering, column, row, size));
    }).length;
  return fits(true) > fits(false);
}

const columnsOf = (shape: GridShape, turned: boolean): ColumnMeaning[] => [
  ...Array.from(
    { length: shape.headColumns },
    (_, i): ColumnMeaning => ({ index: i + 1, meaning: 'rowHead', sure: shape.sure, why: `Heads of the ${turned ? 'columns' : 'rows'}.` }),
  ),
  ...shape.top.map(
    ({ column, text }): ColumnMeaning => ({
      index: column,
      meaning: 'cells',
      sure: shape.sure,
      why: `Cells of ${text.replace(/\s+/g, ' ') || `line ${column - shape.headColumns}`}.`,
    }),
  ),
];
