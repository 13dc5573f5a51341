/** What one sees at one position of an end view: pin, joint, wire hole, contact, or the key. */
import { type EndView, endViews } from '@/lib/core/chart/views';
import type { Position } from './face-run';
import { KeyCross } from './marks';
import { round } from './svg';

export function Opening({ view, position, x, y, size }: { view: EndView; position: Position; x: number; y: number; size: number }) {
  const box = (side: number, className: string) => (
    <rect x={round(x - side / 2)} y={round(y - side / 2)} width={round(side)} height={round(side)} className={className} />
  );
  if (position.key) {
    // On the header the pin is missing, so the key is dashed; in the housing it is filled.
    return endViews[view].part === 'Header' ? (
      <>
        <circle cx={x} cy={y} r={round(size / 3.2)} className="mid paper dash" />
        <KeyCross x={x} y={y} size={round(size / 7)} />
      </>
    ) : (
      <>
        {box(size, 'mid solid-soft')}
        <KeyCross x={x} y={y} size={round(size / 3.6)} />
      </>
    );
  }
  switch (view) {
    case 'Q2':
    case 'H1':
      return (
        <>
          {box(size / 1.5, 'mid paper')}
          {box(size / 3.25, 'solid')}
        </>
      );
    case 'H2':
      return (
        <>
          <circle cx={x} cy={y} r={round(size / 2.6)} className="mid metal" />
          <circle cx={x} cy={y} r={round(size / 8)} className="solid" />
        </>
      );
    case 'P1':
    case 'Q1':
      return <circle cx={x} cy={y} r={round(size / 2)} className="mid paper" />;
    case 'P2':
      return (
        <>
          {box(size / 1.1, 'mid paper')}
          {position.wires.length > 0 && <path d={lips(x, y, size)} className="mid none" />}
        </>
      );
  }
}

/** The two springs of a contact. */
function lips(x: number, y: number, size: number): string {
  const q = size / 4;
  const spring = (side: 1 | -1) =>
    `M${round(x - q)} ${round(y + (side * size) / 5)}q${round(q)} ${round((-side * size) / 3.2)} ${round(2 * q)} 0`;
  return spring(-1) + spring(1);
}
