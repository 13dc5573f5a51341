/** Which key does what in the grid. */
import type { Act } from './grid';

export interface Pressed {
  key: string;
  ctrl: boolean; // or Command
  shift: boolean;
  alt: boolean;
}
const arrows: Record<string, [number, number]> = { ArrowUp: [-1, 0], ArrowDown: [1, 0], ArrowLeft: [0, -1], ArrowRight: [0, 1] };
const page = 12; // rows of PageUp and PageDown

/** The act of a key; null: the browser's own. Copy, cut and paste come as events of the clipboard. */
export function actOfKey({ key, ctrl, shift, alt }: Pressed, editing: { caret: boolean } | null): Act | null {
  if (alt) return null;
  const letter = key.toLowerCase();
  if (ctrl && letter === 'z') return editing ? null : { do: shift ? 'redo' : 'undo' };
  if (ctrl && letter === 'y') return editing ? null : { do: 'redo' };
  if (ctrl && letter === 'd') return { do: 'fill' };
  if (key === 'Enter') return { do: 'commit', and: shift ? 'up' : 'down' };
  if (key === 'Tab' && !ctrl) return { do: 'commit', and: shift ? 'back' : 'next' };
  const arrow = arrows[key];
  if (editing) {
    if (key === 'Escape') return { do: 'cancel' };
    if (key === 'F2') return null;
    return arrow && !editing.caret && !ctrl && !shift ? { do: 'move', rows: arrow[0], columns: arrow[1] } : null;
  }
  const extend = shift;
  if (arrow) {
    if (!ctrl) return { do: 'move', rows: arrow[0], columns: arrow[1], extend };
    return arrow[0] === 0
      ? { do: 'edge', to: arrow[1] < 0 ? 'row-start' : 'row-end', extend }
      : { do: 'move', rows: arrow[0] * 1e6, columns: 0, extend };
  }
  switch (key) {
    case 'Home':
      return { do: 'edge', to: ctrl ? 'start' : 'row-start', extend };
    case 'End':
      return { do: 'edge', to: ctrl ? 'end' : 'row-end', extend };
    case 'PageUp':
    case 'PageDown':
      return { do: 'move', rows: key === 'PageUp' ? -page : page, columns: 0, extend };
    case 'F2':
      return { do: 'edit' };
    case 'Delete':
    case 'Backspace':
      return { do: 'clear' };
  }
  if (ctrl) return letter === 'a' ? { do: 'all' } : null;
  return [...key].length === 1 ? { do: 'type', text: key } : null;
}
