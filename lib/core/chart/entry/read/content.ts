/** What a column holds, told from its cells. */
import { type BoardDesign, netId, netKinds } from '../../schema';
import type { Meaning } from '../types';
import { looksLikeWire } from './colours';
import { readHeader, readInline, readInlinePin, readPin } from './pins';
import { readNature } from './quantities';
import { deviceWords, diodeWords, halfWords, loadWords, platingWords, restWords, stepWords, terminationWords, wordIn } from './synonyms';

type Test = (cell: string) => boolean;

const integer: Test = (cell) => /^\d{1,3}$/.test(cell);
const figure: Test = (cell) =>
  /^[+~]?\s*\d*[.,]?\d+\s*(?:k?Ω|k?ohms?|v|volts?|m?a|amps?|mm|m|["”]|in(?:ch)?|awg|µf|uf|%)?\s*(?:a\.?\s?c\.?|d\.?\s?c\.?|~|r\.?m\.?s\.?)?$/i.test(
    cell,
  );
const number: Test = (cell) => /^(?:sw|no|nr|#)?[\s.]*[A-Za-z]{0,2}-?[0-9][0-9A-F]{0,2}$/i.test(cell);

/** Share of cells that a meaning accepts; meanings that are free text have no test. */
export function testsOf(design: BoardDesign): Readonly<Partial<Record<Meaning, Test>>> {
  const pin: Test = (cell) => {
    if (readInlinePin(cell)) return true;
    const read = readPin(cell, design);
    return read !== null && read.rest.length < 12;
  };
  const wires: Test = (cell) => cell.split(/\s*(?:\+|&|\n)\s*/).every(looksLikeWire);
  const lineNames = new Set(design.nets.flatMap((net) => [net.id.toLowerCase(), ...(net.name ? [net.name.toLowerCase()] : [])]));
  const line: Test = (cell) =>
    lineNames.has(cell.toLowerCase()) ||
    (netId.safeParse(cell).success && netKinds.some((kind) => kind === cell.split('.')[0])) ||
    /^(?:switch-|lamp-)?(?:column|col|row|c|r|direct|load|supply|ground|illumination)[ .-]*\w*$/i.test(cell);
  const axis =
    (word: RegExp): Test =>
    (cell) =>
      integer(cell) || word.test(cell) || pin(cell) || wires(cell);
  return {
    number,
    column: axis(/^(?:col(umn)?|c|strobe)\.?\s*\d/i),
    row: axis(/^(?:row|r|return)\.?\s*\d/i),
    columnWire: wires,
    rowWire: wires,
    wire: wires,
    columnPin: pin,
    rowPin: pin,
    pin: (cell) => pin(cell) || integer(cell),
    header: (cell) => readInline(cell) !== null || readHeader(cell, design) !== null,
    position: integer,
    line,
    device: (cell) => wordIn(deviceWords, cell) !== null,
    normally: (cell) => wordIn(restWords, cell) !== null,
    diode: (cell) => wordIn(diodeWords, cell) !== null,
    driver: (cell) => /^(?:[UQKT]\d{1,3}|[A-Z]{1,3}\d{1,3})$/i.test(cell),
    fuse: (cell) => /^F?-?\d{1,3}\b|\d\s*m?A\b/i.test(cell) && !wires(cell),
    loadKind: (cell) => wordIn(loadWords, cell) !== null,
    ohms: figure,
    volts: figure,
    amps: figure,
    gauge: figure,
    positions: integer,
    pitch: figure,
    keys: (cell) => /^(?:none|no|-|–|\d{1,2}(?:\s*[,;/+ ]\s*(?:and\s*)?\d{1,2})*)$/i.test(cell),
    plating: (cell) => wordIn(platingWords, cell) !== null,
    nature: (cell) => readNature(cell) !== null,
    lampCount: integer,
    step: (cell) => /^\d{1,3}(?:\.\d{1,3})*$/.test(cell),
    what: (cell) => wordIn(stepWords, cell) !== null,
    half: (cell) => wordIn(halfWords, cell) !== null,
    farWire: wires,
    termination: (cell) => wordIn(terminationWords, cell) !== null,
  };
}

export const shareOf = (cells: readonly string[], test: Test): number =>
  cells.length === 0 ? 0 : cells.filter((cell) => test(cell)).length / cells.length;

/** Meanings that content alone can tell, the surest first. */
const told: readonly Meaning[] = [
  'pin',
  'header',
  'device',
  'normally',
  'termination',
  'plating',
  'line',
  'wire',
  'loadKind',
  'fuse',
  'driver',
];
const mostly = 0.8;

/** What a column is by its cells alone; null for free text, which only its neighbours can place. */
export function meaningOfContent(
  cells: readonly string[],
  tests: ReturnType<typeof testsOf>,
): { meaning: Meaning; sure: number; why: string } | null {
  if (cells.length === 0) return { meaning: 'unused', sure: 1, why: 'It has no cells.' };
  const whole = shareOf(cells, integer);
  if (whole >= mostly) {
    const values = new Set(cells);
    if (values.size === cells.length && cells.length > 1) return { meaning: 'number', sure: 0.6, why: 'Whole numbers, each once.' };
    return { meaning: 'column', sure: 0.4, why: 'Small whole numbers that repeat.' };
  }
  for (const meaning of told) {
    const test = tests[meaning];
    const share = test ? shareOf(cells, meaning === 'pin' ? (cell) => test(cell) && !integer(cell) : test) : 0;
    if (share >= mostly) return { meaning, sure: 0.7 * share, why: `${Math.round(share * 100)} % of its cells read so.` };
  }
  const numbers = tests.number ? shareOf(cells, tests.number) : 0;
  if (numbers >= mostly && new Set(cells).size === cells.length) return { meaning: 'number', sure: 0.55, why: 'Numbers, each once.' };
  return null;
}
