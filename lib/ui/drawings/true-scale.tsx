/** Drawings in millimetres, for paper: the housing at 1:1, and the bar that checks the printer. */
import { type EndView, endViews, wiresInFront } from '@/lib/core/chart/views';
import type { FaceView } from '@/lib/core/lookup/types';
import { KeyCross } from './marks';
import { round } from './svg';
import { labelAt, rowsOf, viewInWords } from './views';
import { Wire } from './wire';

const pad = 4;
const body = 5.1;
const top = 6;
const tail = 8;

/**
 * A connector at true size. Numbers stand over every position where the pitch leaves room, else over 1 and each fifth; those of a second row
 * stand beneath, and two rows are drawn without their wires.
 */
export function TrueScale({ face, view = 'P1' }: { face: FaceView; view?: EndView }) {
  const pitch = face.header.pitchMm;
  const rows = rowsOf(face, view);
  const two = rows.length > 1;
  const long = Math.max(...rows.map((row) => row.length));
  const deep = body + (rows.length - 1) * pitch;
  const width = round(long * pitch + 2 * pad);
  const height = round(top + deep + (two ? top : tail) + 1);
  return (
    <svg
      viewBox={`0 0 ${width} ${height}`}
      width={`${width}mm`}
      height={`${height}mm`}
      className="drawing mm"
      role="img"
      aria-label={`At true size. ${viewInWords(face, view)}`}
    >
      <rect x={pad} y={top} width={round(long * pitch)} height={round(deep)} className="mm-mid plate-fill" />
      {rows.flatMap((row, r) =>
        row.map((p, k) => (
          <Seat
            key={p.position}
            face={face}
            position={p}
            view={view}
            x={round(pad + (k + 0.5) * pitch)}
            y={round(top + body / 2 + r * pitch)}
            wired={!two}
            beneath={r > 0 ? round(top + deep + 3.4) : null}
          />
        )),
      )}
    </svg>
  );
}

interface SeatProps {
  face: FaceView;
  position: FaceView['positions'][number];
  view: EndView;
  x: number;
  y: number;
  wired: boolean;
  beneath: number | null; // where the number of a second row stands
}

function Seat({ face, position: p, view, x, y, wired, beneath }: SeatProps) {
  const pitch = face.header.pitchMm;
  const n = face.positions.length;
  const b = pitch * 0.56;
  const numbered = pitch >= 3.5 || p.position === 1 || p.position % 5 === 0 || (p.position === n && n % 5 !== 1);
  return (
    <g>
      <rect
        x={round(x - b / 2)}
        y={round(y - b / 2)}
        width={round(b)}
        height={round(b)}
        className={`mm-mid ${p.key ? 'solid-soft' : 'paper'}`}
      />
      {p.key && <KeyCross x={x} y={y} size={round(b / 3)} />}
      {wired &&
        endViews[view].part === 'Housing' &&
        p.wires.map((w, j) => {
          const each = Math.min(1.5, (pitch * 0.5) / p.wires.length);
          const at = round(x + (j - (p.wires.length - 1) / 2) * (each + 0.25));
          const d = `M${at} ${wiresInFront(view) ? round(y) : top + body}V${top + body + tail}`;
          return <Wire key={j} d={d} colour={w.colour} width={round(each)} mm />;
        })}
      {numbered && (
        <text x={x} y={beneath ?? top - 2.4} className="mm-num">
          {labelAt(face, p.position)}
        </text>
      )}
      {p.position === 1 && <path d={`M${round(x - 0.5)} ${top - 1.4}h1l-.5 1.1z`} className="solid pin-one" />}
    </g>
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
