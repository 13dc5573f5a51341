import type { Metadata } from 'next';
import { countStockAction } from '@/app/actions/stock';
import { can } from '@/lib/access/can';
import { listMembers } from '@/lib/store/members';
import { getCatalogue, listMoves, stock } from '@/lib/store/parts';
import { ActionForm } from '@/lib/ui/forms';
import { Empty, Entry, Widget } from '@/lib/ui/shell';
import { day, money } from '@/lib/ui/words';
import { requireRight } from '../../member';
import { Frame } from '../frame';

export const metadata: Metadata = { title: 'Parts' };

export default async function Parts() {
  const member = await requireRight('/parts', 'read', 'stock');
  const [{ catalogue }, onHand, moves, members] = await Promise.all([getCatalogue(), stock(), listMoves({ limit: 12 }), listMembers()]);
  return (
    <Frame member={member} here="Parts" title="Parts">
      <Entry>
        <h1>Parts</h1>
        {catalogue.parts.length === 0 ? (
          <Empty title="The catalogue is empty">
            Connector plans choose terminals and housings from it. Put one in through the programming interface, described under{' '}
            <a href="/help">For scripts</a>.
          </Empty>
        ) : (
          <table className="stack">
            <thead>
              <tr>
                <th>Part</th>
                <th>Ours</th>
                <th className="n">On hand</th>
                <th>Place</th>
                <th>Pack</th>
              </tr>
            </thead>
            <tbody>
              {catalogue.parts.map((p) => (
                <tr key={p.id}>
                  <td>{p.name}</td>
                  <td className="mono">{p.id}</td>
                  <td className="n" data-h="on hand">
                    {onHand[p.id] ?? 0}
                  </td>
                  <td className="soft">{p.place}</td>
                  <td className="soft">
                    {p.pack > 1 ? `${p.pack} for ` : ''}
                    {p.packPence !== undefined && money(p.packPence, catalogue.currency)} {p.supplier}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
        {can(member, 'write', 'stock') && catalogue.parts.length > 0 && (
          <Widget title="Counted" id="count">
            <p className="soft">What a drawer really holds. The difference is written down as a movement; nothing is overwritten.</p>
            <ActionForm
              action={countStockAction}
              submit="Write down"
              fields={[
                {
                  name: 'part',
                  label: 'Part',
                  type: 'select',
                  options: catalogue.parts.map((p) => ({ value: p.id, label: `${p.id}, ${p.name}` })),
                },
                { name: 'count', label: 'How many are there', type: 'number', required: true },
              ]}
            />
          </Widget>
        )}
        {moves.length > 0 && (
          <Widget title="Last movements" id="moves">
            <table className="stack">
              <thead>
                <tr>
                  <th>Part</th>
                  <th className="n">Pieces</th>
                  <th>Why</th>
                  <th>When</th>
                </tr>
              </thead>
              <tbody>
                {moves.map((m) => (
                  <tr key={m.id}>
                    <td className="mono">{m.part}</td>
                    <td className="n" data-h="pieces">
                      {m.quantity > 0 ? `+${m.quantity}` : m.quantity}
                    </td>
                    <td>{m.reason}</td>
                    <td className="soft">{[members.find((x) => x.id === m.member)?.name, day(m.at)].filter(Boolean).join(', ')}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </Widget>
        )}
      </Entry>
    </Frame>
  );
}
