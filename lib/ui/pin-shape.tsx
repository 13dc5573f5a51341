/** One pin on a photo: a ring where the thing is, its number, and the marks that the map has for it, on paper of their own. */
import type { PhotoPin } from '@/lib/core/chart/pinned';
import { FoundMark, OpenMark, PastMark } from './drawings/marks';
import type { marksOf } from './drawings/matrix-cell';
import { unit } from './photo-marks';

const ring = 20;
const letter = 26; // of the number, across; the drawing's type is 42 high
const sign = 30;

export function PinShape({
  pin,
  tall,
  marks,
  lit,
}: {
  pin: Pick<PhotoPin, 'kind' | 'of' | 'at'>;
  tall: number;
  marks: ReturnType<typeof marksOf>;
  lit?: boolean;
}) {
  const [across = 0, down = 0] = pin.at;
  const signs = [marks.open > 0 && 'open', marks.past > 0 && 'past', marks.found && 'found'].filter((s) => s !== false);
  const long = pin.of.length * letter;
  const wide = long + signs.length * (sign + 6) + 16;
  const from = across > 0.75 ? -ring - 12 - wide : ring + 12;
  const plate = { x: from, y: -27, width: wide, height: 54, rx: 6 };
  return (
    <g className={lit ? 'pin lit' : 'pin'} transform={`translate(${Math.round(across * unit)} ${Math.round(down * tall)})`}>
      <g className="pin-size">
        <circle className="pin-hit" r={62} />
        <rect className="pin-hit" {...plate} />
        <circle className="photo-halo" r={ring} />
        <circle className="photo-ink" r={ring} />
        {lit && <circle className="photo-ink" r={ring - 12} />}
        <rect className="pin-plate" {...plate} />
        <text className="pin-number" x={from + 8} dominantBaseline="central" textLength={long} lengthAdjust="spacingAndGlyphs">
          {pin.of}
        </text>
        {signs.map((each, k) => {
          const x = from + 14 + long + k * (sign + 6);
          return (
            <g key={each} className="pin-sign">
              {each === 'open' && <OpenMark x={x + 14} y={0} size={11} />}
              {each === 'past' && <PastMark x={x + 1} y={-12} size={24} />}
              {each === 'found' && <FoundMark x={x + 4} y={-12} size={22} />}
            </g>
          );
        })}
      </g>
    </g>
  );
}
