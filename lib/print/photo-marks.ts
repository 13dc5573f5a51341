/** What is drawn on a photo, on paper: ink on a halo of paper, as on the screen. Sizes are shares of the photo's width. */
import type { ShownMark } from '@/lib/widgets/definition';
import { ink } from './document';
import type { Pen } from './pen';

const paper = '#ffffff';
type Size = { widthMm: number; heightMm: number };
type Spot = readonly [number, number];

const between = (least: number, wanted: number, most: number) => Math.max(least, Math.min(wanted, most));

export function drawPhotoMarks(pen: Pen, marks: readonly ShownMark[], size: Size): void {
  for (const mark of marks) drawMark(pen, mark, size);
}

function drawMark(pen: Pen, { sort, from, to, number, label }: ShownMark, { widthMm, heightMm }: Size): void {
  const at = (spot: ShownMark['to']): Spot => [spot.x * widthMm, spot.y * heightMm];
  const [x, y] = at(to);
  const letters = { size: 8, bold: true };
  if (sort === 'number') {
    const r = Math.max(2.4, widthMm * 0.034);
    const [cx, cy] = [between(r, x, widthMm - r), between(r, y, heightMm - r)]; // a disc at the very edge stays on the photo
    pen.circle(cx, cy, r, { fill: paper, stroke: ink, width: 0.5 });
    pen.text(String(number), cx, cy + 1, { ...letters, align: 'middle' });
    return;
  }
  if (sort === 'arrow') {
    const start = at(from ?? { x: Math.max(0, to.x - 0.15), y: to.y });
    arrow(pen, start, [x, y], widthMm * 0.044);
    said(pen, label, start, to.y < (from?.y ?? to.y) ? 4 : -2, 0, { widthMm, heightMm });
    return;
  }
  const r = Math.max(1.4, widthMm * 0.022);
  pen.circle(x, y, r, { stroke: paper, width: 1.4 });
  pen.circle(x, y, r, { stroke: ink, width: 0.6 });
  said(pen, label, [x, y], 1, r + 1.4, { widthMm, heightMm });
}

function arrow(pen: Pen, from: Spot, to: Spot, barb: number): void {
  const along = Math.atan2(to[1] - from[1], to[0] - from[0]);
  const side = (turn: number): Spot => [to[0] - barb * Math.cos(along + turn), to[1] - barb * Math.sin(along + turn)];
  for (const look of [
    { stroke: paper, width: 1.6 },
    { stroke: ink, width: 0.6 },
  ]) {
    pen.line([from, to], look);
    pen.line([side(0.45), to, side(-0.45)], look);
  }
}

/** A label on a slip of paper, on the side where there is room. */
function said(pen: Pen, label: string, [x, y]: Spot, down: number, away: number, { widthMm, heightMm }: Size): void {
  if (label === '') return;
  const text = label.length > 28 ? `${label.slice(0, 27)}…` : label;
  const look = { size: 8, bold: true };
  const wide = pen.measure(text, look);
  const wanted = x > widthMm * 0.6 ? x - away - wide : x + away;
  const left = between(0.8, wanted, widthMm - wide - 0.8);
  const foot = between(3, y + down, heightMm - 1);
  pen.rect(left - 0.8, foot - 3, wide + 1.6, 4, { fill: paper });
  pen.text(text, left, foot, look);
}
