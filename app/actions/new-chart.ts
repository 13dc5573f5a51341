/** What a new machine and a new board design begin as. Pure, so that it can be tested without a form. */
import { idOf } from '@/lib/core/chart/copy';
import { emptyMachine } from '@/lib/core/chart/entry';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';

const longestId = 60; // characters; room is left for a turn behind it

/** `Harbour Light`, `no. 2` → `harbour-light-2`; told apart from those that are taken by a further number. */
export function newMachineId(name: string, unit: string, taken: ReadonlySet<string>): string {
  const first = idOf(name, unit).slice(0, longestId) || 'machine';
  let id = first;
  for (let turn = 2; taken.has(id) || id === 'new'; turn++) id = `${first}-${turn}`;
  return id;
}

export interface About {
  id: string;
  name: string;
  unit?: string;
  sort: string;
  serial?: string;
  since?: string;
}

export const newMachine = (design: BoardDesign, about: About): Machine => emptyMachine(design, about);

/** `A1 Power board`, one a line; null when a line does not begin with a designator. */
export function readBoards(text: string): BoardDesign['boards'] | null {
  const lines = text
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter(Boolean);
  const boards = lines.map((line) => /^(A\d{1,2})\b[\s:,-]*(.{0,80})$/i.exec(line));
  return lines.length > 0 && boards.every((b) => b !== null)
    ? boards.map((b) => ({ designator: (b?.[1] ?? '').toUpperCase(), name: b?.[2]?.trim() || 'Board' }))
    : null;
}

/** Lines that the entry screen of a new design offers, as its address says them: `columns=8&rows=8`. */
export const lineCounts = ['columns', 'rows', 'direct', 'lampColumns', 'lampRows', 'loads'] as const;
