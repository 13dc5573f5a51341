/** One end view of a connector, position 1 and key marked, the view named in words; two rows of pins one below the other. Pure drawing. */
import { type EndView, endViews } from '@/lib/core/chart/views';
import type { FaceView } from '@/lib/core/lookup/types';
import { FaceRun, runHeight } from './face-run';
import { round, Sheet } from './svg';
import { firstAt, labelAt, lookedAtFrom, partName, rowsOf, viewInWords } from './views';

export interface FaceProps {
  face: FaceView;
  view: EndView;
  /** Numerals and stubs only, for a phone and for half a column; a list of positions stands with it. */
  narrow?: boolean;
}

const titleHeight = 44;
const numberHeight = 34;
const rowMargin = 44; // for the name of a row of pins

export function Face({ face, view, narrow = false }: FaceProps) {
  const rows = rowsOf(face, view);
  const two = rows.length > 1;
  const margin = two ? rowMargin : 0;
  const { least, most, room } = narrow ? { least: 20, most: 32, room: 352 - margin } : { least: 26, most: 64, room: 900 - margin };
  // A connector too long for the sheet is broken into lines, as in technical drawing, rather than shrunk.
  const longest = Math.max(...rows.map((row) => row.length));
  const lines = Math.ceil(longest / Math.floor(room / least));
  const perLine = Math.ceil(longest / lines);
  const pitch = Math.min(most, room / perLine);
  const runs = rows.flatMap((row, r) =>
    runsOf(row, perLine).map((run, k, all) => ({ run, row: r, first: k === 0, last: k === all.length - 1 })),
  );
  const named = !narrow && endViews[view].part === 'Housing';
  const rowHeight = numberHeight + Math.max(...runs.map(({ run }) => runHeight({ run, view, pitch, named, narrow }))) + 10;
  const width = Math.max(margin + perLine * pitch + 16, narrow ? 300 : 380);
  const { name } = endViews[view];
  return (
    <Sheet
      width={width}
      height={titleHeight + runs.length * rowHeight}
      label={viewInWords(face, view)}
      className={narrow ? 'drawing face narrow' : 'drawing face'}
    >
      <text x={8} y={16} className="fig-h">
        {name}, {partName(face, view)}
      </text>
      <text x={8} y={35} className="fig-t soft">
        {lookedAtFrom[view]}; {firstAt(face, view)}
        {two && !narrow && '; the rows drawn apart'}
        {lines > 1 && `, in ${runs.length} ${two ? 'lines' : 'rows'}`}
      </text>
      {runs.map(({ run, row, first, last }, k) => {
        const y = round(titleHeight + k * rowHeight + numberHeight);
        return (
          <g key={run[0]?.position}>
            {two && first && (
              <text x={8} y={y + 24} className="fig-t soft">
                row {row + 1}
              </text>
            )}
            <FaceRun
              run={run}
              labelOf={(position) => labelAt(face, position)}
              view={view}
              x={8 + margin}
              y={y}
              pitch={pitch}
              named={named}
              narrow={narrow}
              lock={row === 0}
              brokenLeft={!first}
              brokenRight={!last}
            />
          </g>
        );
      })}
    </Sheet>
  );
}

const runsOf = <T,>(row: T[], perLine: number): T[][] =>
  Array.from({ length: Math.ceil(row.length / perLine) }, (_, k) => row.slice(k * perLine, (k + 1) * perLine));
