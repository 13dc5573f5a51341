/** Where a longer housing is cut: the kept length, what the blade takes, the offcut. */
import { KeyCross, PinOne } from './marks';
import { round, Sheet } from './svg';

export interface CutProps {
  from: number; // positions of the stock housing
  keep: number;
  lost: number; // positions the blade takes; 0 where the housing is scored
  keys: readonly number[];
  pitchMm: number;
  sawn: boolean;
  narrow?: boolean;
}

/** The figure in words. */
export function cutInWords({ from, keep, lost, sawn }: CutProps): string {
  const offcut = from - keep - lost;
  const taken =
    lost === 0 ? '' : lost === 1 ? ` The blade takes position ${keep + 1}.` : ` The blade takes positions ${keep + 1} to ${keep + lost}.`;
  return `A housing of ${from} ${sawn ? 'cut' : 'broken at its score'} to ${keep}.${taken} ${offcut > 0 ? `${offcut} ${offcut === 1 ? 'is' : 'are'} kept as an offcut.` : 'Nothing is left over.'}`;
}

export function Cut(props: CutProps) {
  const { from, keep, lost, keys, pitchMm, sawn, narrow = false } = props;
  const pitch = narrow ? Math.min(22, 348 / from) : Math.min(56, 896 / from);
  const x0 = narrow ? 4 : 12;
  const cavity = { w: pitch * 0.56, h: narrow ? 22 : 30 };
  const offcut = from - keep - lost;
  const y = 62;
  const body = 66;
  const width = Math.max(x0 * 2 + from * pitch, narrow ? 300 : 420);
  const edge = x0 + keep * pitch;
  const blade = edge + (lost * pitch) / 2;
  const mid = (i: number) => x0 + (i + 0.5) * pitch;
  const everyNumber = pitch >= 18;
  const foot = y + body;
  const wordsRight = blade > width * 0.55;
  const short = keep * pitch < 150; // no room for lettering over the kept length
  const words = [
    lost === 1 ? `position ${keep + 1} lost` : lost > 1 ? `positions ${keep + 1} to ${keep + lost} lost` : 'none lost',
    offcut > 0 ? `offcut of ${offcut}: keep` : 'no offcut',
    ...(short ? [`kept: ${keep} of ${from}`] : []),
  ];
  const height = foot + (short ? 146 : narrow ? 124 : 108);
  return (
    <Sheet width={width} height={height} label={cutInWords(props)} className={narrow ? 'drawing cut narrow' : 'drawing cut'}>
      <rect x={x0} y={y} width={round(keep * pitch)} height={body} className="mid plate-fill" />
      {lost > 0 && (
        <>
          <path d={hatch(edge, y, lost * pitch, body)} className="hair-ink" />
          <rect x={round(edge)} y={y} width={round(lost * pitch)} height={body} className="thin none dash" />
        </>
      )}
      {offcut > 0 && <rect x={round(edge + lost * pitch)} y={y} width={round(offcut * pitch)} height={body} className="thin none dash" />}
      {Array.from({ length: from }, (_, i) => {
        if (i >= keep && i < keep + lost) return null;
        const kept = i < keep;
        const key = kept && keys.includes(i + 1);
        const shown = kept && (everyNumber || i === 0 || i === keep - 1 || key || (i + 1) % 5 === 0);
        return (
          <g key={i}>
            <rect
              x={round(mid(i) - cavity.w / 2)}
              y={y + 33 - cavity.h / 2}
              width={round(cavity.w)}
              height={cavity.h}
              className={`${kept ? 'mid' : 'thin dash'} ${key ? 'solid-soft' : 'paper'}`}
            />
            {key && <KeyCross x={round(mid(i))} y={y + 33} size={round(cavity.w / 4)} />}
            {shown && (
              <text x={round(mid(i))} y={foot + 30} className={narrow || pitch < 34 ? 'num-xs' : 'num'}>
                {i + 1}
              </text>
            )}
            {key && (
              <text x={round(mid(i))} y={foot + 48} className="fig-t mid-a soft">
                key
              </text>
            )}
          </g>
        );
      })}
      <PinOne x={round(mid(0))} y={y + 3} tip="up" />
      <line x1={round(blade)} y1={30} x2={round(blade)} y2={foot + 40} className="blade" />
      <path d={`M${round(blade - 7)} 20h14l-7 11z`} className="solid" />
      <text x={round(blade)} y={13} className="fig-h mid-a">
        {sawn ? 'cut' : 'break'}
      </text>
      {words.map((line, k) => (
        <text
          key={line}
          x={wordsRight ? width - 4 : round(blade + 8)}
          y={foot + 62 + k * 18}
          className={`fig-t${k === 0 ? ' strong' : ''}${wordsRight ? ' end-a' : ''}`}
        >
          {line}
        </text>
      ))}
      <Dimension
        x1={x0}
        x2={edge}
        y={foot + (short ? 134 : narrow ? 112 : 96)}
        label={`${keep} × ${pitchMm} = ${(keep * pitchMm).toFixed(2)} mm`}
      />
      {!short && <Dimension x1={x0} x2={edge} y={34} label={`kept: ${keep} of ${from}`} />}
    </Sheet>
  );
}

/** Slanting lines over a rectangle, clipped by arithmetic, so that no pattern id is needed. */
export function hatch(x: number, y: number, w: number, h: number): string {
  let d = '';
  for (let c = 7; c < w + h; c += 7) {
    const x1 = Math.min(c, w);
    const x2 = Math.max(0, c - h);
    d += `M${round(x + x1)} ${round(y + (c - x1))}L${round(x + x2)} ${round(y + (c - x2))}`;
  }
  return d;
}

function Dimension({ x1, x2, y, label }: { x1: number; x2: number; y: number; label: string }) {
  const short = x2 - x1 < 150;
  const head = (x: number, to: number) => <path d={`M${round(x)} ${y}l${to * 9} -3v6z`} className="dimhead" />;
  return (
    <g>
      <path d={`M${round(x1)} ${y}H${round(x2)}M${round(x1)} ${y - 8}v16M${round(x2)} ${y - 8}v16`} className="dimline none" />
      {head(x1, 1)}
      {head(x2, -1)}
      <text x={short ? x1 : round((x1 + x2) / 2)} y={y - 7} className={short ? 'fig-m' : 'fig-m mid-a'}>
        {label}
      </text>
    </g>
  );
}
