/** One end view of a connector, position 1 and key marked, the view named in words. Pure drawing. */
import { type EndView, endViews, orderOf } from '@/lib/core/chart/views';
import type { FaceView } from '@/lib/core/lookup/types';
import { FaceRun, runHeight } from './face-run';
import { round, Sheet } from './svg';
import { lookedAtFrom, partName, viewInWords } from './views';

export interface FaceProps {
  face: FaceView;
  view: EndView;
  /** Numerals and stubs only, for a phone and for half a column; a list of positions stands with it. */
  narrow?: boolean;
}

const titleHeight = 44;
const numberHeight = 34;

export function Face({ face, view, narrow = false }: FaceProps) {
  const n = face.positions.length;
  const { least, most, room } = narrow ? { least: 20, most: 32, room: 352 } : { least: 26, most: 64, room: 900 };
  // A connector too long for the sheet is broken into rows, as in technical drawing, rather than shrunk.
  const rows = Math.ceil(n / Math.floor(room / least));
  const perRow = Math.ceil(n / rows);
  const pitch = Math.min(most, room / perRow);
  const runs = runsOf(orderOf(n, view), perRow).map((numbers) => numbers.flatMap((number) => face.positions[number - 1] ?? []));
  const named = !narrow && endViews[view].part === 'Housing';
  const rowHeight = numberHeight + Math.max(...runs.map((run) => runHeight({ run, view, pitch, named, narrow }))) + 10;
  const width = Math.max(perRow * pitch + 16, narrow ? 300 : 380);
  const { name, mirrored } = endViews[view];
  return (
    <Sheet
      width={width}
      height={titleHeight + rows * rowHeight}
      label={viewInWords(face, view)}
      className={narrow ? 'drawing face narrow' : 'drawing face'}
    >
      <text x={8} y={16} className="fig-h">
        {name}, {partName(face, view)}
      </text>
      <text x={8} y={35} className="fig-t soft">
        {lookedAtFrom[view]}; 1 at the {mirrored ? 'right' : 'left'}
        {rows > 1 && `, in ${rows} rows`}
      </text>
      {runs.map((run, k) => (
        <FaceRun
          key={run[0]?.position}
          run={run}
          view={view}
          x={8}
          y={round(titleHeight + k * rowHeight + numberHeight)}
          pitch={pitch}
          named={named}
          narrow={narrow}
          brokenLeft={k > 0}
          brokenRight={k < rows - 1}
        />
      ))}
    </Sheet>
  );
}

const runsOf = (order: number[], perRow: number): number[][] =>
  Array.from({ length: Math.ceil(order.length / perRow) }, (_, k) => order.slice(k * perRow, (k + 1) * perRow));
