import type { Metadata } from 'next';
import { can } from '@/lib/access/can';
import { type BenchJob, benchJobs } from '@/lib/search/bench';
import { recentPages } from '@/lib/search/recent';
import { listMachines } from '@/lib/store/machines';
import { Loom } from '@/lib/ui/drawings';
import { Empty, Entry, LinkButton } from '@/lib/ui/shell';
import { day } from '@/lib/ui/words';
import { requireMember } from '../member';
import { Frame } from './frame';

export const metadata: Metadata = { title: 'The bench' };

export default async function Bench({ searchParams }: { searchParams: Promise<{ whose?: string }> }) {
  const member = await requireMember('/');
  const mine = (await searchParams).whose === 'mine';
  const [machines, jobs, mended, notes] = await Promise.all([
    listMachines(),
    benchJobs({ assigned: mine ? member.id : undefined, limit: 60 }),
    recentPages({ state: 'mended', limit: 8 }),
    recentPages({ machine: null, limit: 20 }),
  ]);
  const waiting = jobs.filter((j) => j.job.state === 'waiting for parts');
  const toProve = jobs.filter((j) => j.job.state === 'to prove');
  const aside = jobs.filter((j) => j.job.state === 'set aside');
  const open = jobs.filter((j) => j.state === 'open' && ![...waiting, ...toProve, ...aside].includes(j));
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
    <Frame member={member} here="Bench" title="On the bench" margin={margin} bar={`${jobs.filter((j) => j.state === 'open').length} open`}>
      <Entry>
        <div className="title-row">
          <h1>On the bench</h1>
          {can(member, 'create', 'page') && (
            <LinkButton href="/pages/new" fill>
              Start a page
            </LinkButton>
          )}
        </div>
        <nav className="whose" aria-label="Whose jobs">
          <a href="/" aria-current={mine ? undefined : 'page'}>
            All jobs
          </a>
          <a href="/?whose=mine" aria-current={mine ? 'page' : undefined}>
            Mine
          </a>
        </nav>
        <h2 className="section-head">In hand</h2>
        {open.length === 0 ? (
          mine ? (
            <Empty title="None of them is yours">A job is given to somebody from its own line: follow its state.</Empty>
          ) : (
            <Empty title="Nothing is open">Start a page when a machine comes in: what the owner said, in their words, is enough.</Empty>
          )
        ) : (
          [...new Set(open.map((j) => j.machine))].map((machine) => (
            <Jobs key={machine} pages={open.filter((j) => j.machine === machine)} />
          ))
        )}
        {waiting.length > 0 && (
          <>
            <h2 className="section-head">Waiting for parts</h2>
            <Jobs pages={waiting} />
          </>
        )}
        {toProve.length > 0 && (
          <>
            <h2 className="section-head">Not proved yet</h2>
            <Jobs pages={toProve} />
          </>
        )}
        {aside.length > 0 && (
          <>
            <h2 className="section-head">Set aside</h2>
            <Jobs pages={aside} />
          </>
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

function Jobs({ pages }: { pages: readonly (Awaited<ReturnType<typeof recentPages>>[number] & Partial<BenchJob>)[] }) {
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
            {p.job && (
              <p className="soft">
                <a className="job-state" href={`/pages/${p.id}/job`}>
                  {p.job.state}
                </a>{' '}
                {p.job.why} {p.assignee ? `${p.assignee} has it.` : ''}
              </p>
            )}
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
