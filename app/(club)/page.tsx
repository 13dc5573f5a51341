import type { Metadata } from 'next';
import { can } from '@/lib/access/can';
import { recentPages } from '@/lib/search/recent';
import { listMachines } from '@/lib/store/machines';
import { Loom } from '@/lib/ui/drawings';
import { Empty, Entry, LinkButton } from '@/lib/ui/shell';
import { day } from '@/lib/ui/words';
import { requireMember } from '../member';
import { Frame } from './frame';

export const metadata: Metadata = { title: 'The bench' };

export default async function Bench() {
  const member = await requireMember('/');
  const [machines, open, mended, notes] = await Promise.all([
    listMachines(),
    recentPages({ state: 'open', limit: 20 }),
    recentPages({ state: 'mended', limit: 8 }),
    recentPages({ machine: null, limit: 20 }),
  ]);
  const margin = (
    <>
      <h4>Machines</h4>
      <ul>
        {machines.map((m) => (
          <li key={m.id}>
            <a href={`/machines/${m.id}`}>{m.title}</a>
          </li>
        ))}
      </ul>
      {notes.length > 0 && (
        <>
          <h4>Notes</h4>
          <ul>
            {notes.map((n) => (
              <li key={n.id}>
                <a href={`/pages/${n.id}`}>{n.title}</a>
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  );
  return (
    <Frame member={member} here="Bench" title="On the bench" margin={margin} bar={`${open.length} open`}>
      <Entry>
        <div className="title-row">
          <h1>On the bench</h1>
          {can(member, 'create', 'page') && (
            <LinkButton href="/pages/new" fill>
              Start a page
            </LinkButton>
          )}
        </div>
        <h2 className="section-head">In hand</h2>
        {open.length === 0 ? (
          <Empty title="Nothing is open">Start a page when a machine comes in: what the owner said, in their words, is enough.</Empty>
        ) : (
          <Jobs pages={open} />
        )}
        <h2 className="section-head">Mended lately</h2>
        {mended.length === 0 ? (
          <Empty title="No fix yet">A page moves here when its fix record says mended.</Empty>
        ) : (
          <Jobs pages={mended} />
        )}
      </Entry>
    </Frame>
  );
}

function Jobs({ pages }: { pages: Awaited<ReturnType<typeof recentPages>> }) {
  return (
    <div className="jobs">
      {pages.map((p) => (
        <article key={p.id} className="job">
          <div className="loomed">
            <Loom colours={p.wires} />
            <h3>
              <a href={`/pages/${p.id}`}>{p.title}</a>
            </h3>
            <p className="soft">{[p.machine, p.by, day(p.on)].filter(Boolean).join(', ')}</p>
            {p.line && <p className="do">{p.line}</p>}
          </div>
          <div className="side">
            {p.progress.map((g) => (
              <p key={g.label}>
                <b>
                  {g.done} of {g.of}
                </b>{' '}
                {g.label.toLowerCase()}
              </p>
            ))}
          </div>
        </article>
      ))}
    </div>
  );
}
