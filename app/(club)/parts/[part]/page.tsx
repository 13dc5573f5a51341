import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { lowAction, receiveAction, takeAction, takeBackAction } from '@/app/actions/stock';
import { requireRight } from '@/app/member';
import { can } from '@/lib/access/can';
import { free } from '@/lib/core/parts/ledger';
import { newId } from '@/lib/notebook/ids';
import { recentPages } from '@/lib/search/recent';
import { getCatalogue } from '@/lib/store/parts';
import { balances, holdersOf, ledger, lows, sourcesOf } from '@/lib/store/stock';
import { ActionForm } from '@/lib/ui/forms';
import { Ledger } from '@/lib/ui/ledger';
import { Empty, Entry, LinkButton, Widget } from '@/lib/ui/shell';
import { day, money } from '@/lib/ui/words';
import { Frame } from '../../frame';

type Props = { params: Promise<{ part: string }> };
export const metadata: Metadata = { title: 'A part' };

export default async function PartPage({ params }: Props) {
  const id = decodeURIComponent((await params).part);
  const member = await requireRight(`/parts/${id}`, 'read', 'stock');
  const { catalogue } = await getCatalogue();
  const part = catalogue.parts.find((p) => p.id === id);
  if (!part) notFound();
  const [all, marks, holders, sources, entries, jobs] = await Promise.all([
    balances(),
    lows(),
    holdersOf(id),
    sourcesOf(id),
    ledger({ part: id, limit: 30 }),
    recentPages({ state: 'open', limit: 50 }),
  ]);
  const held = all[id] ?? { onHand: 0, reserved: 0, last: 0 };
  const hidden = () => [
    { name: 'part', label: '', type: 'hidden' as const, value: id },
    { name: 'seen', label: '', type: 'hidden' as const, value: String(held.last) },
    { name: 'token', label: '', type: 'hidden' as const, value: newId() },
  ];
  const priced = (pence: number | null | undefined) => (pence == null ? 'no price' : money(pence, catalogue.currency));
  const writes = can(member, 'write', 'stock');
  return (
    <Frame member={member} here="Parts" title={part.name} bar={`${free(held)} free`}>
      <Entry>
        <p className="soft">
          <a href="/parts">Parts</a>
        </p>
        <div className="title-row">
          <h1>{part.name}</h1>
          {writes && <LinkButton href={`/parts/${id}/count`}>Count</LinkButton>}
        </div>
        <p className="soft">
          <span className="mono">{id}</span>
          {part.place && `, ${part.place}`}
        </p>
        <dl className="stock-figures">
          <div>
            <dt>On hand</dt>
            <dd>{held.onHand}</dd>
          </div>
          <div>
            <dt>Reserved</dt>
            <dd>{held.reserved}</dd>
          </div>
          <div>
            <dt>Free</dt>
            <dd>{free(held)}</dd>
          </div>
        </dl>
        {writes && (
          <>
            <Widget title="Take" id="take">
              <ActionForm
                action={takeAction}
                submit="Take"
                fields={[
                  ...hidden(),
                  { name: 'pieces', label: 'How many', type: 'number', value: '1', required: true },
                  {
                    name: 'page',
                    label: 'For which job',
                    type: 'select',
                    options: [
                      { value: '', label: 'None' },
                      ...jobs.map((j) => ({ value: j.id, label: [j.title, j.machine].filter(Boolean).join(', ') })),
                    ],
                  },
                ]}
              />
            </Widget>
            <Widget title="Put in" id="receive">
              <ActionForm
                action={receiveAction}
                submit="Put in"
                fields={[
                  ...hidden(),
                  { name: 'packs', label: 'Packs', type: 'number', value: '1', required: true },
                  { name: 'pack', label: 'Pieces in a pack', type: 'number', value: String(part.pack), required: true },
                  { name: 'supplier', label: 'From', value: part.supplier ?? '', hint: 'May stay empty' },
                  { name: 'price', label: `Price of one pack, ${catalogue.currency}`, hint: 'Such as 4.20; may stay empty' },
                ]}
              />
            </Widget>
          </>
        )}
        <Widget title="Reserved for" id="reserved">
          {holders.length === 0 ? (
            <Empty title="Nothing is reserved">A job reserves its parts from its own page, under Parts.</Empty>
          ) : (
            <ul className="ruled">
              {holders.map((h) => (
                <li key={h.page}>
                  <span className="id">{h.held}</span>
                  <a href={`/pages/${h.page}/parts`}>{h.title}</a>
                </li>
              ))}
            </ul>
          )}
        </Widget>
        <Widget title="Suppliers and packs" id="sources">
          <ul>
            <li>
              {part.supplier ?? 'No supplier'}: pack of {part.pack}, {priced(part.packPence)}{' '}
              <span className="soft">from the catalogue</span>
            </li>
            {sources.map((s) => (
              <li key={`${s.supplier} ${s.pack}`}>
                {s.supplier}: pack of {s.pack}, {priced(s.price)} <span className="soft">received {day(s.at)}</span>
              </li>
            ))}
          </ul>
        </Widget>
        {writes && (
          <Widget title="Low stock" id="low">
            <ActionForm
              action={lowAction}
              submit="Set the mark"
              quiet
              fields={[
                { name: 'part', label: '', type: 'hidden', value: id },
                {
                  name: 'low',
                  label: 'Low when fewer are free than',
                  type: 'number',
                  value: marks[id] === undefined ? '' : String(marks[id]),
                  hint: 'Empty: no mark',
                },
              ]}
            />
          </Widget>
        )}
        {entries.length > 0 && (
          <Widget title="Entries" id="entries">
            <Ledger entries={entries} takeBack={writes ? takeBackAction : undefined} />
          </Widget>
        )}
      </Entry>
    </Frame>
  );
}
