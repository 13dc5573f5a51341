/** A row of positions of an end view: the body, what one sees at each position, its wires, numbers and names. */
import { type EndView, endViews, wiresInFront } from '@/lib/core/chart/views';
import type { FaceView } from '@/lib/core/lookup/types';
import { splitColour } from './colours';
import { Opening } from './face-opening';
import { PinOne } from './marks';
import { round } from './svg';
import { Wire } from './wire';

export type Position = FaceView['positions'][number];

export interface Run {
  run: Position[]; // as seen, left to right
  view: EndView;
  pitch: number;
  named: boolean; // names are lettered under the wires
  narrow: boolean;
}

const nameLine = 15;
const isFlat = (pitch: number) => pitch >= 54; // names fit side by side; below that they are turned
const bodyHeight = (pitch: number) => (pitch > 48 ? 58 : pitch > 30 ? 46 : 38);
const tailLength = ({ view, narrow }: Run) => (endViews[view].part === 'Header' ? 0 : narrow ? 34 : 44);

function nameHeight({ run, pitch, named }: Run): number {
  if (!named) return 0;
  const flat = isFlat(pitch);
  const lines = run.map((p) => namesOf(p, flat));
  return flat ? Math.max(...lines.map((l) => l.length)) * nameLine + 8 : Math.max(...lines.flat().map((l) => l.length)) * 7.4 + 12;
}

/** From the top of the body to the foot of the names. */
export const runHeight = (r: Run) => bodyHeight(r.pitch) + tailLength(r) + nameHeight(r);

interface Placed extends Run {
  x: number;
  y: number;
  labelOf: (position: number) => string; // what the chart prints there
  lock: boolean; // on the first of two rows only
  brokenLeft: boolean;
  brokenRight: boolean;
}

export function FaceRun(props: Placed) {
  const { run, view, pitch, named, x, y, labelOf, lock, brokenLeft, brokenRight } = props;
  const height = bodyHeight(pitch);
  const foot = y + height + tailLength(props);
  const centre = (k: number) => round(x + (k + 0.5) * pitch);
  const middle = y + height / 2;
  const numerals = pitch < 28 ? 'num-xs' : pitch < 48 ? 'num-s mid-a' : 'num';
  const each = (draw: (p: Position, k: number) => React.ReactNode) => run.map((p, k) => <g key={p.position}>{draw(p, k)}</g>);
  const wires = each((p, k) => <Stubs position={p} x={centre(k)} from={middle} to={foot} pitch={pitch} />);
  return (
    <>
      {run.map(
        (p, k) =>
          p.lit && (
            <rect
              key={p.position}
              x={round(centre(k) - pitch / 2)}
              y={y - 31}
              width={round(pitch)}
              height={round(31 + runHeight(props))}
              className="wash"
            />
          ),
      )}
      {/* At the wire entry the wires come towards the reader, over the body; from the other side they hide behind it. */}
      {endViews[view].part === 'Housing' && !wiresInFront(view) && wires}
      <path d={bodyOutline(x, y, run.length * pitch, height, brokenLeft, brokenRight)} className="mid plate-fill" />
      {/* The lock: a ramp on the housing, the tall back wall of the header. It stays on top in every view. */}
      {!lock ? null : endViews[view].part === 'Housing' ? (
        <rect x={round(x + pitch * 0.3)} y={y} width={round(run.length * pitch - pitch * 0.6)} height={5} className="mid paper" />
      ) : (
        <rect x={x} y={y} width={round(run.length * pitch)} height={7} className="mid solid-soft" />
      )}
      {each((p, k) => (
        <Opening view={view} position={p} x={centre(k)} y={middle} size={Math.min(30, pitch * 0.52)} />
      ))}
      {wiresInFront(view) && wires}
      {run.map((p, k) => p.position === 1 && <PinOne key="one" x={centre(k)} y={y - 1} tip="down" />)}
      {run.map((p, k) => (
        <text key={p.position} x={centre(k)} y={y - 13} className={p.lit ? `${numerals} lit` : numerals}>
          {labelOf(p.position)}
        </text>
      ))}
      {named && each((p, k) => <Names position={p} x={centre(k)} y={foot} flat={isFlat(pitch)} />)}
    </>
  );
}

/** The body; a broken end is drawn as a break line, for the housing goes on in the next row. */
function bodyOutline(x: number, y: number, width: number, height: number, brokenLeft: boolean, brokenRight: boolean): string {
  const quarter = height / 4;
  const zigzag = (up: number) => `l4 ${up * quarter}l-8 ${up * quarter}l8 ${up * quarter}l-4 ${up * quarter}`;
  const right = brokenRight ? zigzag(1) : `v${height}`;
  const left = brokenLeft ? zigzag(-1) : `v${-height}`;
  return `M${x} ${y}h${round(width)}${right}h${round(-width)}${left}z`;
}

/** Lines to letter under a position. Turned names stand on one line. */
function namesOf(p: Position, flat: boolean): string[] {
  if (p.key) return ['key'];
  if (p.wires.length === 0) return [flat ? 'free' : 'not used'];
  const colours = [...new Set(p.wires.map((w) => w.colour))];
  const times = colours.length === 1 && p.wires.length > 1 ? `×${p.wires.length}` : '';
  if (!flat) return [[colours.join(', '), times].filter(Boolean).join(' ')];
  const lines = colours.flatMap((colour) => {
    const { base, stripe } = splitColour(colour);
    return stripe ? [`${base}/`, stripe] : [base];
  });
  return times ? [...lines, times] : lines;
}

function Names({ position, x, y, flat }: { position: Position; x: number; y: number; flat: boolean }) {
  const lines = namesOf(position, flat);
  const colour = position.wires[0]?.colour;
  const look = `fig-t${colour ? '' : ' soft'}${position.lit ? ' strong' : ''}`;
  if (!flat) {
    return (
      <text x={x + 5} y={y + 8} transform={`rotate(-90 ${x + 5} ${y + 8})`} className={`${look} end-a`} data-wire={colour}>
        {lines[0]}
      </text>
    );
  }
  return lines.map((line, k) => (
    <text key={k} x={x} y={y + 16 + k * nameLine} className={`${look} mid-a`} data-wire={colour}>
      {line}
    </text>
  ));
}

/** The wires of one position, side by side. */
function Stubs({ position, x, from, to, pitch }: { position: Position; x: number; from: number; to: number; pitch: number }) {
  const count = position.wires.length;
  const width = Math.min(count > 1 ? 9 : 12, (pitch * 0.62) / Math.max(count, 1.4));
  return position.wires.map((w, k) => {
    const at = round(x + (k - (count - 1) / 2) * (width + 2.6));
    return <Wire key={k} d={`M${at} ${from}V${to}`} colour={w.colour} width={width} />;
  });
}
