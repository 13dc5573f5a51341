/** What is wrong with a header of a board design as a whole; its pins are in lint-pin.ts. */
import type { TerminalPart } from '../parts/schema';
import { lintDesignator } from './designators';
import { error, type Lint, rest, warning } from './finding';
import { lintPin, lintWires, sameColours } from './lint-pin';
import { boardOf, pinOf } from './names';
import { goesOn, goesOnTurned } from './plug-fit';
import type { BoardDesign, Header, Net } from './schema';
import type { Finding } from './types';

type Nets = ReadonlyMap<string, Net>;

/** Headers by what two of them may share. */
export interface HeaderIndex {
  first: ReadonlyMap<string, number>; // index of the first of a name
  onBoard: ReadonlyMap<string, readonly Header[]>; // in their order
}
export function indexHeaders({ headers }: BoardDesign): HeaderIndex {
  const first = new Map<string, number>();
  const onBoard = new Map<string, Header[]>();
  for (const [i, header] of headers.entries()) {
    if (!first.has(header.id)) first.set(header.id, i);
    const board = onBoard.get(boardOf(header.id));
    if (board) board.push(header);
    else onBoard.set(boardOf(header.id), [header]);
  }
  return { first, onBoard };
}

export function* lintHeader(
  design: BoardDesign,
  header: Header,
  i: number,
  nets: Nets,
  index: HeaderIndex,
  terminals?: readonly TerminalPart[],
): Lint {
  const path = `headers[${i}]`;
  yield* lintDesignator(`${path}.id`, header.id);
  const board = boardOf(header.id);
  if (!design.boards.some((b) => b.designator === board)) {
    const message = `${header.id} belongs to a board ${board} that the design does not have.`;
    yield error('header-without-board', `${path}.id`, message, `Add the board ${board}, or correct the name of the header.`);
  }
  if ((index.first.get(header.id) ?? i) < i) {
    yield error('header-twice', `${path}.id`, `${header.id} stands here a second time.`, 'Remove or rename one of the two.');
  }
  yield* lintKeys(header, path);
  yield* lintShape(header, path);
  for (const [k, pin] of header.pins.entries()) {
    yield rest;
    yield* lintPin(header, pin, k, path);
    const net = nets.get(pin.net);
    if (net) yield* lintWires(header, pin, net, `${path}.pins[${k}]`, terminals);
    else {
      const message = `${pinOf(header.id, pin.position)} names the line ${pin.net}, which the design does not have.`;
      yield error('unknown-line', `${path}.pins[${k}].net`, message, 'Add the line, or correct its name.');
    }
  }
  for (const [k, beside] of (header.beside ?? []).entries()) {
    if (nets.has(beside)) continue;
    const message = `The loom of ${header.id} runs beside ${beside}, a line that the design does not have.`;
    yield error('unknown-line', `${path}.beside[${k}]`, message, 'Add the line, or correct its name.');
  }
  yield* sameColours(header, path, nets);
  yield* exchangeable(index.onBoard.get(board) ?? [], header, i);
}

/** Keys of a header or of an in-line connector. */
export function* lintKeys(header: Omit<Header, 'beside'>, path: string): Generator<Finding> {
  for (const [k, key] of header.keys.entries()) {
    if (key <= header.positions) continue;
    const message = `The key at ${key} lies beyond the ${header.positions} positions of ${header.id}.`;
    yield error('key-beyond-positions', `${path}.keys[${k}]`, message, 'Correct the key, or the number of positions.');
  }
  if (header.keys.some((key) => key > header.positions) || !goesOnTurned(header, { plug: header.keys, pins: header.keys })) return;
  const mend = 'Check for a key, a friction wall or a shroud and enter it; else mark both halves before the plug comes off.';
  const message =
    header.keys.length === 0
      ? `${header.id} has no key, and the chart names nothing else that stops its plug from going on turned round.`
      : `The key of ${header.id} stands the same from both ends: its plug goes on turned round.`;
  yield warning('could-be-turned', header.keys.length === 0 ? path : `${path}.keys`, message, mend);
}

export function* lintShape(header: Omit<Header, 'beside'>, path: string): Generator<Finding> {
  if (header.rows === 2 && (header.numbering ?? 'along') === 'along') {
    const message = `${header.id} has two rows, but the chart does not say how they are numbered.`;
    yield warning('rows-and-numbering', `${path}.rows`, message, 'Set the numbering to zigzag, per-row or lettered.');
  }
  if (header.rows !== 2 && (header.numbering === 'zigzag' || header.numbering === 'per-row')) {
    const message = `The numbering ${header.numbering} of ${header.id} needs two rows.`;
    yield warning('rows-and-numbering', `${path}.numbering`, message, 'Set the rows to 2, or remove the numbering.');
  }
  if (header.skipLetters && header.numbering !== 'lettered') {
    const message = `${header.id} leaves out letters, but its positions are numbered.`;
    yield warning('letters-unused', `${path}.skipLetters`, message, 'Set the numbering to lettered, or remove the letters.');
  }
  if (header.pinMm !== undefined && header.pinMm >= header.pitchMm) {
    const message = `Pins of ${header.pinMm} mm do not stand ${header.pitchMm} mm apart.`;
    yield error('pin-too-thick', `${path}.pinMm`, message, 'Correct the thickness of the pin, or the pitch.');
  }
}

/** Two headers of one board with equal size, pitch and key: their plugs are easily exchanged. */
function* exchangeable(onBoard: readonly Header[], header: Header, i: number): Generator<Finding> {
  const twin = onBoard
    .slice(0, onBoard.indexOf(header))
    .find((h) => h.id !== header.id && goesOn(h, h.keys, header, header.keys) && goesOn(header, header.keys, h, h.keys));
  if (!twin) return;
  const message = `${twin.id} and ${header.id} have the same size and key: their plugs are easily exchanged.`;
  yield warning('exchangeable', `headers[${i}]`, message, 'Check the keys; mark both plugs before they come off.');
}
