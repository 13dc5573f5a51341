import type { Metadata } from 'next';
import { can } from '@/lib/access/can';
import type { JobState } from '@/lib/notebook/job-state';
import { type BenchJob, benchJobs } from '@/lib/search/bench';
import { recentPages } from '@/lib/search/recent';
import { listMachines } from '@/lib/store/machines';
import { Loom } from '@/lib/ui/drawings';
import { Empty, Entry, LinkButton } from '@/lib/ui/shell';
import { day } from '@/lib/ui/words';
import { requireMember } from '../member';
import { Frame } from './frame';

export const metadata: Metadata = { title: 'The bench' };

/** What waits for something stands apart from what is in hand. */
const waits: { state: JobState; title: string }[] = [
  { state: 'waiting for parts', title: 'Waiting for parts' },
  { state: 'to prove', title: 'Not proved yet' },
  { state: 'set aside', title: 'Set aside' },
];

export default async function Bench({ searchParams }: { searchParams: Promise<{ whose?: string }> }) {
  const member = await requireMember('/');
  const mine = (await searchParams).whose === 'mine';
  const assigned = mine ? member.id : undefined;
  const [machines, jobs, mended, notes] = await Promise.all([
    listMachines(),
    benchJobs('on', { assigned, limit: 60 }),
    benchJobs('off', { assigned, limit: 8 }),
    recentPages({ machine: null, limit: 20 }),
  ]);
  const inHand = jobs.filter((j) => !waits.some(({ state }) => state === j.job.state));
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
        {inHand.length === 0 &&
          (mine ? (
            <Empty title="None of them is yours">A job is given to somebody from its own line: follow its state.</Empty>
          ) : (
            <Empty title="Nothing is open">Start a page when a machine comes in: what the owner said, in their words, is enough.</Empty>
          ))}
        {[...new Set(inHand.map((j) => j.machine))].map((machine) => (
          <section key={machine} aria-label={machine}>
            <h3 className="job-machine">{machine}</h3>
            <Jobs jobs={inHand.filter((j) => j.machine === machine)} heading="h4" />
          </section>
        ))}
        {waits.map(({ state, title }) => {
          const waiting = jobs.filter((j) => j.job.state === state);
          return (
            waiting.length > 0 && (
              <section key={state} aria-label={title}>
                <h2 className="section-head">{title}</h2>
                <Jobs jobs={waiting} />
              </section>
            )
          );
        })}
        <h2 className="section-head">Mended lately</h2>
        {mended.length === 0 ? (
          <Empty title="No fix yet">A job moves here when its fix record has an outcome and the mend is proved.</Empty>
        ) : (
          <Jobs jobs={mended} />
        )}
      </Entry>
    </Frame>
  );
}

/** `heading`: of a title; h4 stands under the name of its machine. */
function Jobs({ jobs, heading: Heading = 'h3' }: { jobs: readonly BenchJob[]; heading?: 'h3' | 'h4' }) {
  return (
    <div className="jobs">
      {jobs.map((j) => (
        <article key={j.id} className="job">
          <div className="loomed">
            <Loom colours={j.wires} />
            <Heading>
              <a href={`/pages/${j.id}`}>{j.title}</a>
            </Heading>
            <p className="soft">{[Heading === 'h3' && j.machine, j.by, day(j.on)].filter(Boolean).join(', ')}</p>
            {j.line && <p className="do">{j.line}</p>}
            <p className="job-why">
              <a className="job-state" href={`/pages/${j.id}/job`}>
                {j.job.state}
              </a>
              <span className="soft">
                {j.job.why} {j.assignee && `${j.assignee} has it.`}
              </span>
            </p>
          </div>
          <div className="side">
            {j.progress.map((g) => (
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
