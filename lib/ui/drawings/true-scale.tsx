/** Drawings in millimetres, for paper: the housing at 1:1, and the bar that checks the printer. */
import { type EndView, endViews, orderOf } from '@/lib/core/chart/views';
import type { FaceView } from '@/lib/core/lookup/types';
import { KeyCross } from './marks';
import { round } from './svg';
import { viewInWords } from './views';
import { Wire } from './wire';

const pad = 4;
const body = 5.1;
const top = 6;
const tail = 8;

/** A connector at true size. Numbers stand over every position where the pitch leaves room, else over 1 and each fifth. */
export function TrueScale({ face, view = 'P1' }: { face: FaceView; view?: EndView }) {
  const n = face.positions.length;
  const pitch = face.header.pitchMm;
  const order = orderOf(n, view);
  const width = round(n * pitch + 2 * pad);
  const height = top + body + tail + 1;
  const b = pitch * 0.56;
  const y = top + body / 2;
  return (
    <svg
      viewBox={`0 0 ${width} ${height}`}
      width={`${width}mm`}
      height={`${height}mm`}
      className="drawing mm"
      role="img"
      aria-label={`At true size. ${viewInWords(face, view)}`}
    >
      <rect x={pad} y={top} width={round(n * pitch)} height={body} className="mm-mid plate-fill" />
      {order.map((position, k) => {
        const p = face.positions[position - 1];
        if (!p) return null;
        const x = round(pad + (k + 0.5) * pitch);
        const numbered = pitch >= 3.5 || p.position === 1 || p.position % 5 === 0 || (p.position === n && n % 5 !== 1);
        return (
          <g key={p.position}>
            <rect
              x={round(x - b / 2)}
              y={round(y - b / 2)}
              width={round(b)}
              height={round(b)}
              className={`mm-mid ${p.key ? 'solid-soft' : 'paper'}`}
            />
            {p.key && <KeyCross x={x} y={y} size={round(b / 3)} />}
            {endViews[view].part === 'Housing' &&
              p.wires.map((w, j) => {
                const each = Math.min(1.5, (pitch * 0.5) / p.wires.length);
                const at = round(x + (j - (p.wires.length - 1) / 2) * (each + 0.25));
                return (
                  <Wire
                    key={j}
                    d={`M${at} ${view === 'P1' ? round(y) : top + body}V${top + body + tail}`}
                    colour={w.colour}
                    width={round(each)}
                    mm
                  />
                );
              })}
            {numbered && (
              <text x={x} y={top - 2.4} className="mm-num">
                {p.position}
              </text>
            )}
            {p.position === 1 && <path d={`M${round(x - 0.5)} ${top - 1.4}h1l-.5 1.1z`} className="solid pin-one" />}
          </g>
        );
      })}
    </svg>
  );
}

/** A bar of so many millimetres. If it does not measure that on paper, the sheet was scaled. */
export function Ruler({ mm = 50 }: { mm?: number }) {
  let long = `M2 6h${mm}`;
  let short = '';
  for (let i = 0; i <= mm; i++) {
    const d = `M${2 + i} 6v${i % 10 === 0 ? -4 : i % 5 === 0 ? -2.6 : -1.5}`;
    if (i % 10 === 0) long += d;
    else short += d;
  }
  return (
    <svg
      viewBox={`0 0 ${mm + 4} 8`}
      width={`${mm + 4}mm`}
      height="8mm"
      className="drawing mm"
      role="img"
      aria-label={`Check bar of ${mm} millimetres`}
    >
      <path d={short} className="mm-hair none" />
      <path d={long} className="mm-mid none" />
    </svg>
  );
}
