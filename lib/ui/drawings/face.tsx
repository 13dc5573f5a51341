/** One end view of a connector, position 1 and key marked, the view named in words. Pure drawing. */
import { type EndView, endViews, orderOf } from '@/lib/core/chart/views';
import type { FaceView } from '@/lib/core/lookup/types';
import { splitColour, wiresInWords } from './colours';
import { KeyCross, PinOne } from './marks';
import { round, Sheet } from './svg';
import { lookedAtFrom, partName, viewInWords } from './views';
import { Wire } from './wire';

type Position = FaceView['positions'][number];

export interface FaceProps {
  face: FaceView;
  view: EndView;
  /** Narrow: numerals and stubs only, for a phone and for half a column; a list of positions stands with it. */
  narrow?: boolean;
}

const nameLine = 15;
const titleHeight = 44;

export function Face({ face, view, narrow = false }: FaceProps) {
  const n = face.positions.length;
  const pitch = narrow ? Math.max(20, Math.min(32, 352 / n)) : Math.max(26, Math.min(64, 900 / n));
  const small = pitch < 28;
  const housing = endViews[view].part === 'Housing';
  const flat = pitch >= 54; // names fit side by side; below that they are turned
  const named = !narrow && housing;
  const texts = face.positions.map((p) => namesOf(p, flat));
  const namesHeight = named
    ? flat
      ? Math.max(...texts.map((t) => t.length)) * nameLine + 8
      : Math.max(...texts.flat().map((t) => t.length)) * 7.4 + 12
    : 0;
  const body = { x: 8, y: titleHeight + 34, height: pitch > 48 ? 58 : pitch > 30 ? 46 : 38 };
  const tail = housing ? (narrow ? 34 : 44) : 0;
  const width = Math.max(n * pitch + 16, narrow ? 300 : 380);
  const height = body.y + body.height + tail + namesHeight + 10;
  const order = orderOf(n, view);
  const centre = (i: number) => round(body.x + (order.indexOf(i + 1) + 0.5) * pitch);
  const middle = body.y + body.height / 2;
  const { name, mirrored } = endViews[view];

  const wires = face.positions.map((p, i) => (
    <Stubs key={p.position} position={p} x={centre(i)} from={middle} to={body.y + body.height + tail} pitch={pitch} />
  ));
  const shell = (
    <>
      <rect x={body.x} y={body.y} width={round(n * pitch)} height={body.height} className="mid plate-fill" />
      {/* The lock: a ramp on the housing, the tall back wall of the header. It stays on top in every view. */}
      {housing ? (
        <rect x={round(body.x + pitch * 0.3)} y={body.y} width={round(n * pitch - pitch * 0.6)} height={5} className="mid paper" />
      ) : (
        <rect x={body.x} y={body.y} width={round(n * pitch)} height={7} className="mid solid-soft" />
      )}
      {face.positions.map((p, i) => (
        <Opening key={p.position} view={view} position={p} x={centre(i)} y={middle} size={Math.min(30, pitch * 0.52)} />
      ))}
    </>
  );
  return (
    <Sheet width={width} height={height} label={viewInWords(face, view)} className={narrow ? 'drawing face narrow' : 'drawing face'}>
      <text x={body.x} y={16} className="fig-h">
        {name}, {partName(face, view)}
      </text>
      <text x={body.x} y={35} className="fig-t soft">
        {lookedAtFrom[view]}; 1 at the {mirrored ? 'right' : 'left'}
      </text>
      {face.positions.map(
        (p, i) =>
          p.lit && (
            <rect
              key={p.position}
              x={round(centre(i) - pitch / 2)}
              y={body.y - 31}
              width={round(pitch)}
              height={height - body.y + 31}
              className="wash"
            />
          ),
      )}
      {/* At the wire entry the wires come towards the reader, over the body; from the other side they hide behind it. */}
      {view === 'P2' && wires}
      {shell}
      {view === 'P1' && wires}
      <PinOne x={centre(0)} y={body.y - 1} tip="down" />
      {face.positions.map((p, i) => (
        <text
          key={p.position}
          x={centre(i)}
          y={body.y - 13}
          className={`${small ? 'num-xs' : pitch < 48 ? 'num-s mid-a' : 'num'}${p.lit ? ' lit' : ''}`}
        >
          {p.position}
        </text>
      ))}
      {named &&
        face.positions.map((p, i) => (
          <Names
            key={p.position}
            lines={texts[i] ?? []}
            x={centre(i)}
            y={body.y + body.height + tail}
            flat={flat}
            colour={p.wires[0]?.colour}
            lit={p.lit}
          />
        ))}
    </Sheet>
  );
}

/** Lines to letter under a position. Turned names stand on one line. */
function namesOf(p: Position, flat: boolean): string[] {
  if (p.key) return ['key'];
  if (p.wires.length === 0) return [flat ? 'free' : 'not used'];
  const first = p.wires[0]?.colour ?? '';
  const alike = p.wires.every((w) => w.colour === first);
  if (!flat) return [alike && p.wires.length > 1 ? `${first} ×${p.wires.length}` : [...new Set(p.wires.map((w) => w.colour))].join(', ')];
  return [...new Set(p.wires.map((w) => w.colour))]
    .flatMap((colour) => {
      const { base, stripe } = splitColour(colour);
      return stripe ? [`${base}/`, stripe] : [base];
    })
    .concat(alike && p.wires.length > 1 ? [`×${p.wires.length}`] : []);
}

function Names({
  lines,
  x,
  y,
  flat,
  colour,
  lit,
}: {
  lines: string[];
  x: number;
  y: number;
  flat: boolean;
  colour?: string;
  lit: boolean;
}) {
  const look = `fig-t${colour ? '' : ' soft'}${lit ? ' strong' : ''}`;
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

/** What one sees at one position. */
function Opening({ view, position, x, y, size }: { view: EndView; position: Position; x: number; y: number; size: number }) {
  const box = (side: number, className: string) => (
    <rect x={round(x - side / 2)} y={round(y - side / 2)} width={round(side)} height={round(side)} className={className} />
  );
  if (position.key) {
    return endViews[view].part === 'Header' ? (
      <g>
        <circle cx={x} cy={y} r={round(size / 3.2)} className="mid paper dash" />
        <KeyCross x={x} y={y} size={round(size / 7)} />
      </g>
    ) : (
      <g>
        {box(size, 'mid solid-soft')}
        <KeyCross x={x} y={y} size={round(size / 3.6)} />
      </g>
    );
  }
  switch (view) {
    case 'H1':
      return (
        <g>
          {box(size / 1.5, 'mid paper')}
          {box(size / 3.25, 'solid')}
        </g>
      );
    case 'H2':
      return (
        <g>
          <circle cx={x} cy={y} r={round(size / 2.6)} className="mid metal" />
          <circle cx={x} cy={y} r={round(size / 8)} className="solid" />
        </g>
      );
    case 'P1':
      return <circle cx={x} cy={y} r={round(size / 2)} className="mid paper" />;
    case 'P2': {
      const q = size / 4;
      const lips = `M${round(x - q)} ${round(y - size / 5)}q${round(q)} ${round(size / 3.2)} ${round(2 * q)} 0M${round(x - q)} ${round(y + size / 5)}q${round(q)} ${round(-size / 3.2)} ${round(2 * q)} 0`;
      return (
        <g>
          {box(size / 1.1, 'mid paper')}
          {position.wires.length > 0 && <path d={lips} className="mid none" />}
        </g>
      );
    }
  }
}

/** The text equivalent of any face: every position with its wires in words. */
export function Positions({ face }: { face: FaceView }) {
  return (
    <ol className="positions" aria-label={`Positions of ${face.housing}`}>
      {face.positions.map((p) => (
        <li key={p.position} className={p.lit ? 'lit' : undefined} data-wire={p.wires[0]?.colour}>
          <b>{p.position}</b>
          <span className={p.wires.length ? undefined : 'soft'}>
            {p.key ? 'key' : p.wires.length ? wiresInWords(p.wires) : 'not used'}
            {p.lit && <em>{p.label}</em>}
          </span>
        </li>
      ))}
    </ol>
  );
}
