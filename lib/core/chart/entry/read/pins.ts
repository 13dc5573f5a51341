/** Pins and headers as people write them, held against the board design. */
import type { BoardDesign } from '../../schema';

export interface PinRead {
  header: string;
  position: number;
}
/** `many`: the board is not said, and several have such a header. */
type HeaderRead = { header: string } | { many: string[] } | null;

const pinForm = /(?:^|[\s,;(])(?:A?(\d{1,2})\s*-?\s*)?[JP]\s*(\d{1,2})\s*(?:[-.:/, ]\s*(?:pin|pos|p)?\.?\s*|\s+)(\d{1,2})(?!\d)/i;
const headerForm = /^(?:A?(\d{1,2})\s*-?\s*)?[JP]\s*(\d{1,2})$/i;

/** `A3J4`, `A3 J4`, `3J4`, `A3P4`, `J4`; a header that the design does not have yet is taken as written when its board is said. */
export function readHeader(text: string, design: BoardDesign): HeaderRead {
  const [, board, number] = headerForm.exec(text.trim()) ?? [];
  if (!number) return null;
  const tail = `J${Number(number)}`;
  if (board) return { header: `A${Number(board)}${tail}` };
  const there = [...new Set(design.headers.map((h) => h.id))].filter((id) => id.endsWith(tail) && /^A\d+$/.test(id.slice(0, -tail.length)));
  const [only] = there;
  if (only && there.length === 1) return { header: only };
  const boards = design.boards.map((b) => b.designator);
  if (there.length === 0 && boards.length === 1) return { header: `${boards[0]}${tail}` };
  return { many: there.length > 0 ? there : boards.map((b) => `${b}${tail}`) };
}

/** The pin in a cell: `A3J4-7`, `J4-7`, `A3 J4 pin 7`. `rest` is the cell without it. */
export function readPin(text: string, design: BoardDesign): { pin: PinRead | { many: string[]; position: number }; rest: string } | null {
  const found = pinForm.exec(text);
  if (!found) return null;
  const [all, board = '', number = '', position = ''] = found;
  const header = readHeader(`${board ? `A${board}` : ''}J${number}`, design);
  if (!header || Number(position) < 1) return null;
  const rest = `${text.slice(0, found.index)} ${text.slice(found.index + all.length)}`.replace(/\(\s*\)/g, ' ').trim();
  const pin = 'many' in header ? { ...header, position: Number(position) } : { header: header.header, position: Number(position) };
  return { pin, rest };
}

/** An in-line connector: `X1`, `x 1`. */
export function readInline(text: string): string | null {
  const [, number] = /^X\s?(\d{1,2})$/i.exec(text.trim()) ?? [];
  return number ? `X${Number(number)}` : null;
}
/** A position of one: `X1-4`, `X1 pin 4`. */
export function readInlinePin(text: string): string | null {
  const [, number, position] = /^X\s?(\d{1,2})\s*(?:[-.:/]\s*|\s)(?:pin\s*|pos\.?\s*)?(\d{1,2})$/i.exec(text.trim()) ?? [];
  return number && Number(position) > 0 ? `X${Number(number)}-${Number(position)}` : null;
}

/** Every pin in a cell, their board said or the design's only one. */
export function readPins(text: string, design: BoardDesign): PinRead[] {
  const pins: PinRead[] = [];
  for (const part of text.split(/\s*[,;+&\n]\s*/)) {
    const read = part === '' ? null : readPin(part, design);
    if (read && !('many' in read.pin)) pins.push(read.pin);
  }
  return pins;
}
