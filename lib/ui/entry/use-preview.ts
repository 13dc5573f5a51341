'use client';
/** Which pages would mean something else once this is saved: asked a moment after the last change, one question at a time. */
import { useEffect, useRef, useState } from 'react';
import * as z from 'zod/mini';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import type { Charts } from './rebase';
import { changedDocs } from './saving';

const restMs = 1200; // after the last change
const preview = z.object({ changed: z.array(z.object({ id: z.string(), title: z.string() })) });

export type PageTouched = z.infer<typeof preview>['changed'][number];

/** Pages of `now` against what is kept; null while that is not known. Without a network nothing is said: saving waits for it too. */
export function usePreview(now: Charts, kept: Charts): readonly PageTouched[] | null {
  const [known, setKnown] = useState<{ of: Charts; pages: readonly PageTouched[] } | null>(null);
  const asking = useRef<Promise<unknown>>(Promise.resolve());
  useEffect(() => {
    let stale = false;
    const timer = setTimeout(() => {
      asking.current = asking.current.then(async () => {
        if (stale) return;
        const docs = changedDocs(now, kept);
        const answers = await Promise.all(docs.map(({ doc, mine }) => ask(doc, mine)));
        if (stale) return;
        const pages = new Map(answers.flatMap((pages) => pages ?? []).map((page) => [page.id, page]));
        setKnown(answers.includes(null) ? null : { of: now, pages: [...pages.values()] });
      });
    }, restMs);
    return () => {
      stale = true;
      clearTimeout(timer);
    };
  }, [now, kept]);
  return known?.of === now ? known.pages : null;
}

async function ask(doc: 'machine' | 'design', chart: Machine | BoardDesign): Promise<readonly PageTouched[] | null> {
  try {
    const response = await fetch(`/api/${doc}s/${chart.id}/preview`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ [doc]: chart }),
    });
    return response.ok ? preview.parse(await response.json()).changed : null;
  } catch {
    return null;
  }
}
