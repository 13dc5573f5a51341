/** Entries of the stock ledger, newest first. */
import type { EntryKind } from '@/lib/core/parts/ledger';
import { ActionForm, type FormAction } from './forms';
import { day } from './words';

export interface LedgerEntry {
  id: number;
  part: string;
  kind: EntryKind;
  quantity: number;
  held: number;
  reason: string;
  supplier: string | null;
  page: string | null;
  title: string | null;
  member: string | null;
  at: string;
  undoes: number | null;
  undone: boolean;
}
const signed = (pieces: number) => (pieces > 0 ? `+${pieces}` : String(pieces));

/** `takeBack`: for whoever may write; each entry that stands can be taken back once. */
export function Ledger({ entries, takeBack, part = false }: { entries: readonly LedgerEntry[]; takeBack?: FormAction; part?: boolean }) {
  return (
    <table className="stack">
      <thead>
        <tr>
          <th>Entry</th>
          {part && <th>Part</th>}
          <th className="n">On hand</th>
          <th className="n">Reserved</th>
          <th>Why</th>
          <th>Who and when</th>
          {takeBack && <th />}
        </tr>
      </thead>
      <tbody>
        {entries.map((e) => (
          <tr key={e.id}>
            <td>
              {e.kind} <span className="soft">no. {e.id}</span>
            </td>
            {part && (
              <td className="mono">
                <a href={`/parts/${e.part}`}>{e.part}</a>
              </td>
            )}
            <td className="n" data-h="on hand">
              {e.quantity === 0 ? (e.kind === 'counted' ? 'as the book' : '') : signed(e.quantity)}
            </td>
            <td className="n" data-h="reserved">
              {e.held === 0 ? '' : signed(e.held)}
            </td>
            <td>
              {e.page && <a href={`/pages/${e.page}`}>{e.title ?? 'Untitled'}</a>} {[e.reason, e.supplier].filter(Boolean).join(', ')}
            </td>
            <td className="soft">{[e.member, day(e.at)].filter(Boolean).join(', ')}</td>
            {takeBack && (
              <td>
                {e.undone ? (
                  <span className="soft">taken back</span>
                ) : (
                  e.undoes === null && (
                    <ActionForm
                      action={takeBack}
                      submit={
                        <>
                          Take back<span className="sr"> no. {e.id}</span>
                        </>
                      }
                      quiet
                      fields={[{ name: 'id', label: '', type: 'hidden', value: String(e.id) }]}
                    />
                  )
                )}
              </td>
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
