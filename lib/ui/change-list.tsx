/** What differs between two charts, cell by cell in words. */
import { type ChangeLine, changeLines } from '@/lib/core/chart/change-words';
import type { Change } from '@/lib/core/chart/differences';

/** `from` and `to` name the two states above their values. */
export function ChangeList({ changes, from, to }: { changes: readonly Change[]; from: string; to: string }) {
  const lines = changeLines(changes);
  if (lines.length === 0) return <p className="soft">Nothing differs.</p>;
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
