/** Draws inside a figure, in millimetres from the figure's top left corner; y grows downwards. */
import { pointsPerMm as k } from './paper';
import { type Doc, drawRuns, type Run, widthOf } from './type';

export interface Stroke {
  fill?: string;
  stroke?: string;
  width?: number; // of the line, mm; a hairline of 0.2 without it
  dash?: number; // mm
}
export interface Lettering {
  size?: number; // points; 8 without it
  bold?: boolean;
  mono?: boolean;
  colour?: string;
  align?: 'left' | 'middle' | 'right';
  turned?: boolean; // reads upwards
}
export interface Pen {
  rect(x: number, y: number, w: number, h: number, look: Stroke): void;
  circle(x: number, y: number, r: number, look: Stroke): void;
  /** A line through points; `close` joins the last to the first. */
  line(points: readonly (readonly [number, number])[], look: Stroke & { close?: boolean }): void;
  /** One line of text, its foot at `y`. */
  text(text: string, x: number, y: number, look?: Lettering): void;
  /** Width of a line of text in mm. */
  measure(text: string, look?: Lettering): number;
}

export function penAt(doc: Doc, left: number, top: number): Pen {
  const paint = ({ fill, stroke, width = 0.2, dash }: Stroke) => {
    if (stroke) doc.lineWidth(width * k).strokeColor(stroke);
    if (dash) doc.dash(dash * k, { space: dash * k });
    if (fill && stroke) doc.fillAndStroke(fill, stroke);
    else if (fill) doc.fill(fill);
    else if (stroke) doc.stroke();
    if (dash) doc.undash();
  };
  const runOf = (text: string, { bold, mono }: Lettering): Run => ({ text, bold, mono });
  const measure = (text: string, look: Lettering = {}) => widthOf(doc, runOf(text, look), look.size ?? 8);
  return {
    rect(x, y, w, h, look) {
      doc.rect((left + x) * k, (top + y) * k, w * k, h * k);
      paint(look);
    },
    circle(x, y, r, look) {
      doc.circle((left + x) * k, (top + y) * k, r * k);
      paint(look);
    },
    line(points, look) {
      points.forEach(([x, y], i) => {
        if (i === 0) doc.moveTo((left + x) * k, (top + y) * k);
        else doc.lineTo((left + x) * k, (top + y) * k);
      });
      if (look.close) doc.closePath();
      paint(look);
    },
    text(text, x, y, look = {}) {
      const { size = 8, colour = '#1c1b19', align = 'left', turned } = look;
      const wide = measure(text, look);
      const back = align === 'middle' ? wide / 2 : align === 'right' ? wide : 0;
      if (!turned) {
        drawRuns(doc, [runOf(text, look)], size, left + x - back, top + y, colour);
        return;
      }
      doc.save();
      doc.rotate(-90, { origin: [(left + x) * k, (top + y) * k] });
      drawRuns(doc, [runOf(text, look)], size, left + x - back, top + y, colour);
      doc.restore();
    },
    measure,
  };
}
