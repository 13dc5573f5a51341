import type { Metadata } from 'next';
import { takeBackAction } from '@/app/actions/stock';
import { can } from '@/lib/access/can';
import { free, lowParts } from '@/lib/core/parts/ledger';
import { getCatalogue } from '@/lib/store/parts';
import { balances, ledger, lows } from '@/lib/store/stock';
import { Ledger } from '@/lib/ui/ledger';
import { Empty, Entry, Widget } from '@/lib/ui/shell';
import { money } from '@/lib/ui/words';
import { requireRight } from '../../member';
import { Frame } from '../frame';

export const metadata: Metadata = { title: 'Parts' };
const none = { onHand: 0, reserved: 0, last: 0 };

export default async function Parts() {
  const member = await requireRight('/parts', 'read', 'stock');
  const [{ catalogue }, held, marks, entries] = await Promise.all([getCatalogue(), balances(), lows(), ledger({ limit: 12 })]);
  const low = lowParts(catalogue.parts, held, marks);
  const sum = low.reduce((all, l) => all + (l.cost ?? 0), 0);
  return (
    <Frame member={member} here="Parts" title="Parts" bar={low.length > 0 ? `${low.length} low` : undefined}>
      <Entry>
        <h1>Parts</h1>
        {low.length > 0 && (
          <Widget title="Low, and what to order" id="low">
            <table className="stack">
              <thead>
                <tr>
                  <th>Part</th>
                  <th className="n">Free</th>
                  <th className="n">Should be</th>
                  <th>To order</th>
                  <th className="n">Cost</th>
                </tr>
              </thead>
              <tbody>
                {low.map((l) => (
                  <tr key={l.part}>
                    <td>
                      <a href={`/parts/${l.part}`}>{l.name}</a>
                    </td>
                    <td className="n" data-h="free">
                      {l.free}
                    </td>
                    <td className="n" data-h="should be">
                      {l.low}
                    </td>
                    <td>
                      <b>{l.pack > 1 ? `${l.packs} × ${l.pack}` : l.pieces}</b> {l.supplier && <span className="soft">{l.supplier}</span>}
                    </td>
                    <td className="n" data-h="cost">
                      {l.cost === null ? 'no price' : money(l.cost, catalogue.currency)}
                    </td>
                  </tr>
                ))}
              </tbody>
              <tfoot>
                <tr>
                  <td colSpan={4}>To order</td>
                  <td className="n">{money(sum, catalogue.currency)}</td>
                </tr>
              </tfoot>
            </table>
          </Widget>
        )}
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
                <th className="n">Reserved</th>
                <th className="n">Free</th>
                <th>Place</th>
              </tr>
            </thead>
            <tbody>
              {catalogue.parts.map((p) => {
                const has = held[p.id] ?? none;
                return (
                  <tr key={p.id}>
                    <td>
                      <a className="part-link" href={`/parts/${p.id}`}>
                        {p.name}
                      </a>
                    </td>
                    <td className="mono">{p.id}</td>
                    <td className="n" data-h="on hand">
                      {has.onHand}
                    </td>
                    <td className="n" data-h="reserved">
                      {has.reserved}
                    </td>
                    <td className="n" data-h="free">
                      {free(has)}
                    </td>
                    <td className="soft">{p.place}</td>
                  </tr>
                );
              })}
            </tbody>
          </table>
        )}
        {entries.length > 0 && (
          <Widget title="Last entries" id="entries">
            <Ledger entries={entries} part takeBack={can(member, 'write', 'stock') ? takeBackAction : undefined} />
          </Widget>
        )}
      </Entry>
    </Frame>
  );
}
