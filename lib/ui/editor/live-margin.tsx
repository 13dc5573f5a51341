'use client';
/** The margin of a live page: recomputed as the page is written, without moving the text. */
import { useEffect, useState } from 'react';
import type { SearchResult } from '@/lib/search/types';
import { PageMargin } from '../page-margin';
import { type Session, useSession, useStore } from './session';

const settleMs = 1200;

export function LiveMargin({ waiting }: { waiting: React.ReactNode }) {
  const session = useSession();
  return session ? <Margin session={session} /> : waiting;
}

function Margin({ session }: { session: Session }) {
  const page = useStore(session.evaluated);
  const seen = useSeenBefore(session.data.page, page.facts.map((f) => `${f.kind}:${f.value}`).join('|') + page.title);
  return <PageMargin page={page} chart={session.context.chart} seen={seen} />;
}

/** Past fixes like this page; asked again a moment after what the page is about has changed. */
function useSeenBefore(page: string, about: string) {
  const [seen, setSeen] = useState<SearchResult[] | null>(null);
  useEffect(() => {
    const stop = new AbortController();
    const timer = setTimeout(
      async () => {
        const results = await fetch(`/api/pages/${page}/seen`, { signal: stop.signal, headers: { accept: 'application/json' } })
          .then((answer) => (answer.ok ? answer.json() : null))
          .then((body: { results: SearchResult[] } | null) => body?.results)
          .catch(() => undefined);
        if (results) setSeen(results);
      },
      about ? settleMs : 0,
    );
    return () => {
      clearTimeout(timer);
      stop.abort();
    };
  }, [page, about]);
  return seen;
}
