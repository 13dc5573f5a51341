import type { Metadata } from 'next';
import { forgetSearchAction, saveSearchAction } from '@/app/actions/searches';
import { askedAs, readAsked } from '@/lib/search/address';
import { recentPages } from '@/lib/search/recent';
import { searchFixes } from '@/lib/search/search';
import { listSavedSearches, type SavedSearch } from '@/lib/store/saved-searches';
import { ActionForm } from '@/lib/ui/forms';
import { LikeThis, Narrowing } from '@/lib/ui/search/narrowing';
import { ReadingLine } from '@/lib/ui/search/reading-line';
import { CircuitAnswers, FixResult } from '@/lib/ui/search/results';
import { Empty, Entry, LinkButton } from '@/lib/ui/shell';
import { day } from '@/lib/ui/words';
import { requireRight } from '../../member';
import { Frame } from '../frame';

type Props = { searchParams: Promise<Record<string, string | string[] | undefined>> };

/** One of each sort of clue; whether anything fits depends on the club. */
const examples = ['counts sometimes', 'grey-orange', 'A3J4-7', 'sw 46'];
const shown = 30;

export async function generateMetadata({ searchParams }: Props): Promise<Metadata> {
  const { q } = readAsked(await searchParams);
  return { title: q ? q.slice(0, 80) : 'Fixes' };
}

export default async function Search({ searchParams }: Props) {
  const asked = readAsked(await searchParams);
  const { q, ...options } = asked;
  const member = await requireRight(`/search?${askedAs(asked)}`, 'read', 'search');
  const found = q.trim() ? await searchFixes(q, { limit: shown, ...options }) : null;
  return (
    <Frame member={member} here="Fixes" title="Fixes" query={q}>
      <Entry>
        <h1>{found ? 'Seen before' : 'Look for a fix'}</h1>
        <form className="ask" action="/search">
          <label htmlFor="fixes">What it does, in any words; or a wire, a pin, a switch number</label>
          <input id="fixes" name="q" type="search" enterKeyHint="search" defaultValue={q} maxLength={300} />
          <button type="submit" className="btn fill">
            Search
          </button>
        </form>
        {/* Replaced as one types, by lib/ui/enhance.js. */}
        <div id="found">
          {found ? (
            <>
              <ReadingLine found={found} asked={asked} />
              <CircuitAnswers answers={found.answers} query={q} />
              {found.building && (
                <p className="soft" role="status">
                  The notebook is still being read: {found.building.done} of {found.building.of} pages so far. Search again in a moment.
                </p>
              )}
              {found.results.length > 0 ? (
                <>
                  <LikeThis found={found} asked={asked} />
                  <Narrowing found={found} asked={asked} />
                </>
              ) : (
                <Empty title={Object.keys(asked.narrow).length > 0 ? 'None of these' : 'Nothing like it yet'}>
                  {Object.keys(asked.narrow).length > 0 ? (
                    <a href={`/search?${askedAs({ ...asked, narrow: {} })}`}>Look among all of them</a>
                  ) : (
                    'Try fewer words, or only the wire, such as grey/orange, the pin, such as A3J4-7, or the switch number. When you have mended it, a fix record makes it findable for the next one.'
                  )}
                </Empty>
              )}
              {found.results.map((r) => (
                <FixResult key={r.page} r={r} />
              ))}
              <p className="soft">
                {found.total > found.results.length
                  ? `The best ${found.results.length} of ${found.total} pages`
                  : `${found.total} ${found.total === 1 ? 'page' : 'pages'}`}
                , {Math.max(1, Math.round(found.milliseconds))} ms
              </p>
              <details className="keep-search">
                <summary>Keep this search</summary>
                <ActionForm
                  action={saveSearchAction}
                  submit="Keep"
                  fields={[
                    { name: 'name', label: 'Under which name', value: q.slice(0, 60), required: true },
                    { name: 'asked', label: '', type: 'hidden', value: askedAs(asked) },
                  ]}
                />
              </details>
              {found.results.length > 0 && (
                <p className="actions">
                  <LinkButton href="/pages/new">Start a page</LinkButton>
                </p>
              )}
            </>
          ) : (
            <Begin kept={await listSavedSearches(member.id)} recent={await recentPages({ state: 'mended', limit: 12 })} />
          )}
        </div>
      </Entry>
    </Frame>
  );
}

function Begin({ kept, recent }: { kept: SavedSearch[]; recent: Awaited<ReturnType<typeof recentPages>> }) {
  return (
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
      {kept.length > 0 && (
        <>
          <h2 className="section-head">Kept searches</h2>
          <ul className="rows">
            {kept.map((s) => (
              <li key={s.id}>
                <a href={`/search?${s.asked}`}>
                  <b>{s.name}</b>
                </a>
                <form action={forgetSearchAction}>
                  <input type="hidden" name="id" value={s.id} />
                  <button type="submit" className="btn text" aria-label={`Forget the search ${s.name}`}>
                    Forget
                  </button>
                </form>
              </li>
            ))}
          </ul>
        </>
      )}
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
  );
}
