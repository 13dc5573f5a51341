'use client';
/** Marks or pins over a photo, to take hold of: by finger, mouse or keyboard. What is dragged is told when it is let go: one step of undo. */
import { type KeyboardEvent, type PointerEvent, type ReactNode, useEffect, useRef, useState } from 'react';
import { tallness, unit } from '@/lib/ui/photo-marks';
import type { ShownMark } from '../definition';
import type { Spot } from './definition';

export type End = 'from' | 'to';
type Held = Pick<ShownMark, 'sort' | 'from' | 'to'> & { id: string };
interface Props<M extends Held> {
  photo: { width: number; height: number; marks: readonly M[] };
  /** What the marks are, for who does not see them. */
  label: string;
  chosen: string | null;
  choose(mark: string | null): void;
  remove(mark: string): void;
  /** `whole`: one step of undo by itself, and not one of a run of key presses. */
  move(mark: string, end: End, spot: Spot, whole: boolean): void;
  /** The photo was pressed where no mark is. */
  place(spot: Spot): void;
  words(mark: M): string;
  shape(mark: M, tall: number): ReactNode;
}
interface Drag {
  mark: string;
  end: End;
  spot: Spot;
  moved: boolean;
}
const within = (n: number) => Math.round(Math.min(1, Math.max(0, n)) * 10_000) / 10_000;
const steps: Record<string, [x: number, y: number]> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

export function MarkLayer<M extends Held>({ photo, label, chosen, choose, remove, move, place, words, shape }: Props<M>) {
  const tall = tallness(photo);
  const sheet = useRef<SVGSVGElement>(null);
  const [drag, setDrag] = useState<Drag | null>(null);
  const held = useRef<Drag | null>(null); // at once: on a slow device a finger is up before what it moved is drawn
  const hold = (now: Drag | null) => {
    held.current = now;
    setDrag(now);
  };
  const marks = photo.marks.map((mark) => (drag?.mark === mark.id ? { ...mark, [drag.end]: drag.spot } : mark));

  const known = useRef(new Set(photo.marks.map((mark) => mark.id)));
  useEffect(() => {
    const fresh = photo.marks.find((mark) => mark.id === chosen && !known.current.has(mark.id));
    known.current = new Set(photo.marks.map((mark) => mark.id));
    // A mark that was just made here is held by the keyboard at once.
    if (fresh) sheet.current?.querySelector<SVGGElement>(`[data-mark="${fresh.id}"][data-end="to"]`)?.focus({ preventScroll: true });
  }, [photo.marks, chosen]);

  const spotOf = (event: PointerEvent): Spot => {
    const box = sheet.current?.getBoundingClientRect();
    if (!box) return { x: 0.5, y: 0.5 };
    return { x: within((event.clientX - box.left) / box.width), y: within((event.clientY - box.top) / box.height) };
  };
  const press = (event: KeyboardEvent, mark: M, end: End) => {
    const step = steps[event.key];
    if (event.key === 'Delete' || event.key === 'Backspace') {
      event.preventDefault();
      remove(mark.id);
    } else if (step && !event.ctrlKey && !event.altKey && !event.metaKey) {
      event.preventDefault();
      const by = event.shiftKey ? 0.05 : 0.01;
      const at = mark[end] ?? mark.to;
      move(mark.id, end, { x: within(at.x + step[0] * by), y: within(at.y + step[1] * by) }, false);
    }
  };
  const handle = (mark: M, end: End) => {
    const at = mark[end];
    if (!at) return null;
    return (
      <g
        key={end}
        className="mark-grab"
        role="button"
        tabIndex={0}
        data-mark={mark.id}
        data-end={end}
        aria-label={`${words(mark)}${mark.sort === 'arrow' ? (end === 'to' ? ', point' : ', tail') : ''}. Arrow keys move it, Delete removes it.`}
        onFocus={() => choose(mark.id)}
        onKeyDown={(event) => press(event, mark, end)}
        onPointerDown={(event) => {
          event.stopPropagation();
          event.preventDefault();
          event.currentTarget.focus({ preventScroll: true });
          event.currentTarget.setPointerCapture(event.pointerId);
          hold({ mark: mark.id, end, spot: at, moved: false });
        }}
        onPointerMove={(event) => held.current && hold({ ...held.current, spot: spotOf(event), moved: true })}
        onPointerUp={(event) => {
          event.stopPropagation();
          const dragged = held.current;
          hold(null);
          if (dragged?.moved) move(dragged.mark, dragged.end, dragged.spot, true);
        }}
        onPointerCancel={() => hold(null)}
      >
        <circle cx={at.x * unit} cy={at.y * tall} r={62} />
      </g>
    );
  };
  return (
    <svg ref={sheet} className="photo-marks live" viewBox={`0 0 ${unit} ${tall}`} role="group" aria-label={label}>
      <rect className="mark-ground" width={unit} height={tall} onPointerUp={(event) => place(spotOf(event))} />
      {marks.map((mark) => (
        <g key={mark.id} className={mark.id === chosen ? 'mark chosen' : 'mark'}>
          {shape(mark, tall)}
          {handle(mark, 'from')}
          {handle(mark, 'to')}
        </g>
      ))}
    </svg>
  );
}
