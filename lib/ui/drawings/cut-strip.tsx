/** One strip cut into several pieces: each with its positions on the strip, the cuts, what is left over. */
import type { JobStrip } from '@/lib/core/harness/job-types';
import { hatch } from './cut';
import { round, Sheet } from './svg';

export interface CutStripProps {
  strip: JobStrip;
  own: string; // id of the piece that is drawn full; the others are dashed
  nameOf: (id: string) => string; // what a piece is called: A3P4
  narrow?: boolean;
}

const listed = (numbers: readonly number[]) =>
  numbers.length < 2 ? numbers.join('') : `${numbers.slice(0, -1).join(', ')} and ${numbers.at(-1)}`;

/** "From H-254-24: 9 + 7 + 6, cut through positions 10 and 18. Nothing is left over." */
export function stripInWords({ part, pieces, cuts, left, kept }: JobStrip): string {
  const lengths = pieces.map((p) => p.to - p.from + 1).join(' + ');
  const lost = cuts.flatMap((c) => (c.lost === null ? [] : [c.lost]));
  const many = cuts.length === 1 ? 'position' : 'positions';
  const how = lost.length > 0 ? `cut through ${many} ${listed(lost)}` : `broken behind ${many} ${listed(cuts.map((c) => c.after))}`;
  const rest =
    left === 0 ? 'Nothing is left over.' : kept === null ? `${left} left over, too short to keep.` : `${left} left over: keep them.`;
  return `From ${part}: ${lengths}, ${how}. ${rest}`;
}

export function CutStrip({ strip, own, nameOf, narrow = false }: CutStripProps) {
  const { positions, pieces, cuts } = strip;
  const pitch = narrow ? Math.min(22, 348 / positions) : Math.min(56, 896 / positions);
  const x0 = narrow ? 4 : 12;
  const y = 40;
  const body = 50;
  const foot = y + body;
  const cavity = { w: pitch * 0.56, h: narrow ? 20 : 26 };
  const left = (position: number) => x0 + (position - 1) * pitch;
  const middle = (position: number) => left(position) + pitch / 2;
  const everyNumber = pitch >= 18;
  const width = Math.max(x0 * 2 + positions * pitch, narrow ? 300 : 420);
  const pieceAt = (position: number) => pieces.find((p) => position >= p.from && position <= p.to);
  return (
    <Sheet
      width={width}
      height={foot + 24 + 18 * pieces.length}
      label={`${stripInWords(strip)} ${pieces.map((p) => `${nameOf(p.id)} is ${p.from} to ${p.to}`).join(', ')}.`}
      className={narrow ? 'drawing cut narrow' : 'drawing cut'}
    >
      <rect x={x0} y={y} width={round(positions * pitch)} height={body} className="thin none dash" />
      {pieces.map((p) => (
        <rect
          key={p.id}
          x={round(left(p.from))}
          y={y}
          width={round((p.to - p.from + 1) * pitch)}
          height={body}
          className={p.id === own ? 'mid plate-fill' : 'thin none'}
        />
      ))}
      {Array.from({ length: positions }, (_, i) => i + 1).map((position) => {
        const piece = pieceAt(position);
        if (cuts.some((c) => c.lost === position))
          return <path key={position} d={hatch(left(position), y, pitch, body)} className="hair-ink" />;
        const end = piece && (position === piece.from || position === piece.to);
        return (
          <g key={position}>
            <rect
              x={round(middle(position) - cavity.w / 2)}
              y={y + (body - cavity.h) / 2}
              width={round(cavity.w)}
              height={cavity.h}
              className={`${piece?.id === own ? 'mid' : 'thin'} paper`}
            />
            {(everyNumber || end) && (
              <text x={round(middle(position))} y={y - 8} className={narrow || pitch < 34 ? 'num-xs' : 'num-s mid-a'}>
                {position}
              </text>
            )}
          </g>
        );
      })}
      {cuts.map(({ after, lost }) => {
        const x = round(lost === null ? left(after + 1) : middle(lost));
        return (
          <g key={after}>
            <line x1={x} y1={y - 22} x2={x} y2={foot + 10} className="blade" />
            <path d={`M${x - 5} ${y - 32}h10l-5 9z`} className="solid" />
          </g>
        );
      })}
      {pieces.map((p, k) => (
        <text key={p.id} x={x0} y={foot + 30 + 18 * k} className={p.id === own ? 'fig-t strong' : 'fig-t'}>
          {nameOf(p.id)}: {p.from} to {p.to}
          {p.id === own ? ', this plan' : ''}
        </text>
      ))}
    </Sheet>
  );
}
