/** What differs between two charts, cell by cell in words. */
import { type ChangeLine, changeLines } from '@/lib/core/chart/change-words';
import type { Change } from '@/lib/core/chart/differences';

const mostInOne = 40; // lines; more are opened table by table
const mostOpen = 4; // lines of a table that stands open among them
const tableNames: Readonly<Record<string, string>> = {
  boards: 'Boards',
  nets: 'Lines',
  headers: 'Connectors',
  switches: 'Switches',
  direct: 'Direct switches',
  lamps: 'Lamps',
  loads: 'Loads',
  illumination: 'General illumination',
  chains: 'Harness',
  inline: 'In-line connectors',
  inlinePins: 'In-line positions',
  asFound: 'As found',
  keysAsFound: 'Keys as found',
  photos: 'Photos',
  boardPhotos: 'Photos',
  pinned: 'Pins on photos',
  boardPinned: 'Pins on photos',
};

interface Named {
  changes: readonly Change[];
  /** The two states, as they are named above their values. */
  from: string;
  to: string;
}

export function ChangeList({ changes, from, to }: Named) {
  const lines = changeLines(changes);
  if (lines.length === 0) return <p className="soft">Nothing differs.</p>;
  if (lines.length <= mostInOne) return <Lines lines={lines} from={from} to={to} />;
  const tables = new Map<string, Change[]>();
  for (const change of changes) {
    const name = tableNames[change.path[0] ?? ''] ?? 'The whole';
    tables.set(name, [...(tables.get(name) ?? []), change]);
  }
  return [...tables]
    .map(([name, own]) => ({ name, lines: changeLines(own) }))
    .filter((table) => table.lines.length > 0)
    .map((table) => (
      <details key={table.name} className="changed-table" open={table.lines.length <= mostOpen}>
        <summary>
          {table.name}: {table.lines.length} {table.lines.length === 1 ? 'difference' : 'differences'}
        </summary>
        <Lines lines={table.lines} from={from} to={to} />
      </details>
    ));
}

function Lines({ lines, from, to }: { lines: readonly ChangeLine[]; from: string; to: string }) {
  return (
    <table className="stack changes">
      <thead>
        <tr>
          <th>What</th>
          <th>{from}</th>
          <th>{to}</th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <tr key={line.label}>
            <td>
              <b>{line.label}</b>
            </td>
            <Value says={from} value={line.was} />
            <Value says={to} value={line.is} />
          </tr>
        ))}
      </tbody>
    </table>
  );
}

const Value = ({ says, value }: { says: string; value: ChangeLine['was'] }) => (
  <td data-h={says} className={value === '' ? 'soft' : undefined}>
    {value === '' ? 'not there' : value}
  </td>
);
