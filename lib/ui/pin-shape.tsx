/** One pin on a photo: a ring where the thing is, its number, and the marks that the map has for it, on paper of their own. */
import type { PhotoPin } from '@/lib/core/chart/pinned';
import { FoundMark, OpenMark, PastMark } from './drawings/marks';
import type { marksOf } from './drawings/matrix-cell';
import { unit } from './photo-marks';
import { type LabelledPin, labelHigh, type PinLabel, ring } from './pin-labels';

const letter = 26; // of the number, across; the drawing's type is 42 high
const sign = 30;

type Marked = ReturnType<typeof marksOf>;
const signsOf = (marks: Marked) => [marks.open > 0 && 'open', marks.past > 0 && 'past', marks.found && 'found'].filter((s) => s !== false);
const longOf = (of: string) => of.length * letter;

/** A pin as its label takes room on a photo. */
export const labelled = ({ of, at: [across = 0, down = 0] }: Pick<PhotoPin, 'of' | 'at'>, tall: number, marks: Marked): LabelledPin => ({
  x: Math.round(across * unit),
  y: Math.round(down * tall),
  wide: longOf(of) + signsOf(marks).length * (sign + 6) + 16,
});

export function PinShape({
  pin,
  label,
  tall,
  marks,
  lit,
}: {
  pin: Pick<PhotoPin, 'kind' | 'of' | 'at'>;
  label: PinLabel;
  tall: number;
  marks: Marked;
  lit?: boolean;
}) {
  const { x, y, wide } = labelled(pin, tall, marks);
  const signs = signsOf(marks);
  const long = longOf(pin.of);
  const from = label.x - wide / 2;
  const plate = { x: from, y: label.y - labelHigh / 2, width: wide, height: labelHigh, rx: 6 };
  const edge = ring / Math.hypot(label.x, label.y);
  const line = `M${Math.round(edge * label.x)} ${Math.round(edge * label.y)}L${label.x} ${label.y}`;
  return (
    <g className={lit ? 'pin lit' : 'pin'} transform={`translate(${x} ${y})`}>
      <g className="pin-size">
        <circle className="pin-hit" r={label.hit} />
        {label.far && <path className="pin-line halo" d={line} />}
        {label.far && <path className="pin-line" d={line} />}
        <circle className="photo-halo" r={ring} />
        <circle className="photo-ink" r={ring} />
        {lit && <circle className="photo-ink" r={ring - 12} />}
        <rect className="pin-plate" {...plate} />
        <text className="pin-number" x={from + 8} y={label.y} dominantBaseline="central" textLength={long} lengthAdjust="spacingAndGlyphs">
          {pin.of}
        </text>
        {signs.map((each, k) => {
          const at = from + 14 + long + k * (sign + 6);
          return (
            <g key={each} className="pin-sign">
              {each === 'open' && <OpenMark x={at + 14} y={label.y} size={11} />}
              {each === 'past' && <PastMark x={at + 1} y={label.y - 12} size={24} />}
              {each === 'found' && <FoundMark x={at + 4} y={label.y - 12} size={22} />}
            </g>
          );
        })}
      </g>
    </g>
  );
}
