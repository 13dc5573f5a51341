'use client';
/** The margin of a live page: recomputed as the page is written, without moving the text. */
import { useEffect, useState } from 'react';
import type { SearchResult } from '@/lib/search/types';
import { PageMargin } from '../page-margin';
import { type Session, useSession, useStore } from './session';

const settleMs = 1200;

/** Past fixes like this page, as the server found them. */
interface Seen {
  results: SearchResult[];
  at: number; // when it looked, ms since 1970
}

export function LiveMargin({ waiting, seen }: { waiting: React.ReactNode; seen: Seen }) {
  const session = useSession();
  return session ? <Margin session={session} first={seen} /> : waiting;
}

function Margin({ session, first }: { session: Session; first: Seen }) {
  const page = useStore(session.evaluated);
  const offline = useStore(session.live.saved).state === 'offline';
  const about = page.facts.map((f) => `${f.kind}:${f.value}`).join('|') + page.title;
  const { seen, failed } = useSeenBefore(session.data.page, about, first, offline);
  const why = offline ? 'without network it is not looked up again' : failed ? 'it could not be looked up again' : null;
  return (
    <PageMargin
      page={page}
      chart={session.context.chart}
      seen={seen.results}
      seenNote={why === null ? undefined : `As of ${moment(seen.at, new Date())}; ${why}.`}
    />
  );
}

/** The time, with its day when that is not today. */
function moment(at: number, now: Date): string {
  const when = new Date(at);
  const time = { hour: '2-digit', minute: '2-digit' } as const;
  const today = when.toDateString() === now.toDateString();
  return when.toLocaleString('en-GB', today ? time : { day: 'numeric', month: 'long', ...time });
}

/** Asked again a moment after what the page is about has changed, and when the network is back. */
function useSeenBefore(page: string, about: string, first: Seen, offline: boolean) {
  const [seen, setSeen] = useState(first);
  const [failed, setFailed] = useState(false);
  useEffect(() => {
    if (offline) return;
    const stop = new AbortController();
    const timer = setTimeout(
      async () => {
        const results = await fetch(`/api/pages/${page}/seen`, { signal: stop.signal, headers: { accept: 'application/json' } })
          .then((answer) => (answer.ok ? answer.json() : null))
          .then((body: { results: SearchResult[] } | null) => body?.results)
          .catch(() => undefined);
        if (stop.signal.aborted) return;
        setFailed(!results);
        if (results) setSeen({ results, at: Date.now() });
      },
      about ? settleMs : 0,
    );
    return () => {
      clearTimeout(timer);
      stop.abort();
    };
  }, [page, about, offline]);
  return { seen, failed };
}
