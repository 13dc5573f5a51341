'use client';
import { fromBase64 } from 'lib0/buffer';
/** One open page: its document, its socket, what it computes from. Everything live on the screen reads from here. */
import { createContext, type ReactNode, useContext, useEffect, useMemo, useState, useSyncExternalStore } from 'react';
import { indexChart } from '@/lib/core/chart';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import type { FixCounts } from '@/lib/core/diagnosis';
import type { Catalogue, Reserved, Stock } from '@/lib/core/parts/schema';
import { type LivePage, openPage } from '@/lib/live/client';
import { schema } from '@/lib/notebook/schema';
import type { EvaluatedPage } from '@/lib/notebook/types';
import { unknownInUpdate } from '@/lib/notebook/unknown';
import type { PageContext } from '@/lib/widgets/definition';
import { evaluatedStore, type Store } from './evaluated';

/** What the server hands to a live page. */
export interface LiveData {
  page: string;
  title: string;
  /** The document as it was when the screen was made (Yjs update, V1, base64); null when it is too big to come along. */
  state: string | null;
  member: { id: string; name: string };
  write: boolean;
  machine: Machine | null;
  design: BoardDesign | null;
  catalogue: Catalogue;
  stock: Stock;
  reserved: Reserved;
  record: FixCounts;
  removed: readonly string[];
}
export interface Session {
  live: LivePage;
  data: LiveData;
  context: PageContext;
  evaluated: Store<EvaluatedPage>;
}

const SessionContext = createContext<Session | null>(null);

/** The session, or null until the socket has been opened. */
export const useSession = () => useContext(SessionContext);

export function LiveSession({ data, children }: { data: LiveData; children: ReactNode }) {
  const context = useMemo(
    () => ({
      chart: data.machine && data.design ? indexChart(data.machine, data.design) : null,
      catalogue: data.catalogue,
      stock: data.stock,
      reserved: data.reserved,
      record: data.record,
      removed: data.removed,
    }),
    [data],
  );
  const [session, setSession] = useState<Session | null>(null);
  useEffect(() => {
    const live = openPage(data.page, undefined, undefined, {
      keep: { member: data.member.id, title: data.title },
      strange: (update, doc) => unknownInUpdate(update, doc, schema),
      ...(data.state !== null && { state: fromBase64(data.state) }),
    });
    const evaluated = evaluatedStore(live.doc, context);
    setSession({ live, data, context, evaluated });
    return () => {
      setSession(null);
      evaluated.close();
      live.close();
    };
  }, [data, context]);
  return <SessionContext value={session}>{children}</SessionContext>;
}

export const useStore = <T,>(store: Store<T>) => useSyncExternalStore(store.subscribe, store.getSnapshot, store.getSnapshot);
