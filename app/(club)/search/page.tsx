import type { Metadata } from 'next';
import { recentPages } from '@/lib/search/recent';
import { searchFixes } from '@/lib/search/search';
import { Loom, WireChip } from '@/lib/ui/drawings';
import { Empty, Entry, LinkButton } from '@/lib/ui/shell';
import { day, duration } from '@/lib/ui/words';
import { requireRight } from '../../member';
import { Frame } from '../frame';

type Props = { searchParams: Promise<{ q?: string }> };

/** One of each sort of clue; whether anything fits depends on the club. */
const examples = ['counts sometimes', 'grey-orange', 'A3J4-7', 'sw 46'];

export async function generateMetadata({ searchParams }: Props): Promise<Metadata> {
  const { q } = await searchParams;
  return { title: q ? q.slice(0, 80) : 'Fixes' };
}

export default async function Search({ searchParams }: Props) {
  const { q = '' } = await searchParams;
  const member = await requireRight(`/search?q=${encodeURIComponent(q)}`, 'read', 'search');
  const found = q.trim() ? await searchFixes(q, { limit: 30 }) : null;
  const recent = found ? [] : await recentPages({ state: 'mended', limit: 12 });
  const margin = found && (
    <>
      <h4>Read as</h4>
      <ul>
        {found.parts.map((p) => (
          <li key={`${p.as} ${p.text}`}>{p.as === 'wire' ? <WireChip colour={p.value} /> : p.label}</li>
        ))}
      </ul>
      <p className="soft">
        {found.total} {found.total === 1 ? 'page' : 'pages'}, {Math.max(1, Math.round(found.milliseconds))} ms
      </p>
    </>
  );
  return (
    <Frame member={member} here="Fixes" title="Fixes" query={q} margin={margin} bar={found ? `${found.total} found` : undefined}>
      <Entry>
        <h1>{found ? 'Seen before' : 'Look for a fix'}</h1>
        <form className="ask" action="/search">
          <label htmlFor="fixes">What it does, in any words; or a wire, a pin, a switch number</label>
          <input id="fixes" name="q" defaultValue={q} maxLength={300} />
          <button type="submit" className="btn fill">
            Search
          </button>
        </form>
        {!found && (
          <>
            <p className="soft">
              For instance{' '}
              {examples.map((e, i) => (
                <span key={e}>
                  {i > 0 && ', '}
                  <a href={`/search?q=${encodeURIComponent(e)}`}>{e}</a>
                </span>
              ))}
              .
            </p>
            <h2 className="section-head">Mended lately</h2>
            <ul className="rows">
              {recent.map((p) => (
                <li key={p.id}>
                  <a href={`/pages/${p.id}`}>
                    <b>{p.title}</b>
                    <span className="soft">{p.line}</span>
                  </a>
                  <span className="soft">{p.machine}</span>
                  <span className="soft">{day(p.on)}</span>
                </li>
              ))}
            </ul>
          </>
        )}
        {found && found.answers.length > 0 && (
          <section className="answers" aria-label="The circuit itself">
            {found.answers.map((a) => (
              <article key={`${a.machineId} ${a.kind} ${a.id}`} className="clue-answer">
                <h2>
                  <a
                    href={`/machines/${a.machineId}?${a.kind === 'circuit' ? `circuit=${encodeURIComponent(a.id)}` : `clue=${encodeURIComponent(q)}`}#ask`}
                  >
                    {a.title}
                  </a>
                </h2>
                <p className="soft">{a.machine}</p>
                <p className="wires">
                  {a.wires.map((w) => (
                    <WireChip key={w} colour={w} />
                  ))}
                  <span className="mono">{a.pins.join(', ')}</span>
                </p>
                <p className="note soft">{a.reason}</p>
              </article>
            ))}
          </section>
        )}
        {found && found.results.length === 0 && (
          <Empty title="Nothing like it yet">
            Try fewer words, or only the wire, such as grey/orange, the pin, such as A3J4-7, or the switch number. When you have mended it,
            a fix record makes it findable for the next one.
          </Empty>
        )}
        {found?.results.map((r) => (
          <article key={r.page} className="result">
            <div className="loomed">
              <Loom colours={r.wires} />
              <h3>
                <a href={`/pages/${r.page}`}>{r.title}</a>
              </h3>
              {(r.cause || r.place) && (
                <p>
                  <b>{r.cause}</b> {r.place && <span className={/^A\d+J\d+-\d+$/.test(r.place) ? 'mono' : undefined}>{r.place}</span>}
                </p>
              )}
              <p>{r.excerpt}</p>
              <p className="why">{r.why.join(' · ')}</p>
            </div>
            <p className="meta">
              {r.machine || 'No machine'}
              <br />
              {day(r.on)}
              <br />
              {[r.by, r.minutes ? duration(r.minutes) : '', r.state === 'open' ? 'open' : ''].filter(Boolean).join(', ')}
            </p>
          </article>
        ))}
        {found && found.results.length > 0 && (
          <p className="actions">
            <LinkButton href="/pages/new">Start a page</LinkButton>
          </p>
        )}
      </Entry>
    </Frame>
  );
}
