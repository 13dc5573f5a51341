/** Saving: the board design where it changed, then the machine; each names the version it was made from. */
import * as z from 'zod/mini';
import { differences } from '@/lib/core/chart/differences';
import { type Conflict, merge } from '@/lib/core/chart/merge';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import type { Charts } from './rebase';

export interface Kept extends Charts {
  versions: { machine: number; design: number };
}
export type Doc = 'machine' | 'design';
export type Saved =
  | { ok: true; kept: Kept; merged: string[]; pages: number }
  | { ok: false; why: 'offline'; kept: Kept }
  | { ok: false; why: 'refused'; kept: Kept; message: string; mends: string[] }
  | {
      ok: false;
      why: 'conflict';
      kept: Kept;
      doc: Doc;
      now: Machine | BoardDesign;
      version: number;
      conflicts: Conflict[];
      words: string[];
    };

const answer = z.object({ version: z.number(), merged: z.array(z.object({ label: z.string() })), pages: z.number() });
const problem = z.object({
  detail: z.optional(z.string()),
  title: z.optional(z.string()),
  errors: z.optional(z.array(z.object({ field: z.string(), message: z.string(), mend: z.optional(z.string()) }))),
});

const addressOf = (doc: Doc, id: string) => (doc === 'machine' ? `/api/machines/${id}/chart` : `/api/designs/${id}`);

/** The charts that differ from what is kept, in the order in which they are saved. */
export function changedDocs(now: Charts, kept: Charts): { doc: Doc; mine: Machine | BoardDesign; base: Machine | BoardDesign }[] {
  return (['design', 'machine'] as const).flatMap((doc) => {
    const mine = now[doc];
    const base = kept[doc];
    return mine && base && differences<Machine | BoardDesign>(base, mine).length > 0 ? [{ doc, mine, base }] : [];
  });
}

/** `fetch` is given, so that the way of saving can be tried without a server. */
export async function save(now: Charts, kept: Kept, fetch: typeof globalThis.fetch): Promise<Saved> {
  let at = kept;
  const merged: string[] = [];
  let pages = 0;
  for (const { doc, mine, base } of changedDocs(now, kept)) {
    const result = await put(doc, mine, base, at, fetch);
    if (!result.ok) return result;
    at = result.kept;
    merged.push(...result.merged);
    pages += result.pages;
  }
  return { ok: true, kept: at, merged, pages };
}

async function put(
  doc: Doc,
  mine: Machine | BoardDesign,
  base: Machine | BoardDesign,
  kept: Kept,
  fetch: typeof globalThis.fetch,
): Promise<Saved> {
  const address = addressOf(doc, mine.id);
  let response: Response;
  try {
    response = await fetch(address, {
      method: 'PUT',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ [doc]: mine, version: kept.versions[doc] }),
    });
  } catch {
    return { ok: false, why: 'offline', kept };
  }
  if (response.status >= 502 && response.status <= 504) return { ok: false, why: 'offline', kept };
  const json: unknown = await response.json().catch(() => null);
  if (response.ok) {
    const { version, merged, pages } = answer.parse(json);
    const chart = merged.length === 0 ? mine : ((await read(doc, mine.id, fetch))?.chart ?? mine);
    return { ok: true, kept: withDoc(kept, doc, chart, version), merged: merged.map((m) => m.label), pages };
  }
  const said = problem.safeParse(json);
  const errors = said.success ? (said.data.errors ?? []) : [];
  if (response.status === 409) {
    const now = await read(doc, mine.id, fetch);
    if (!now) return { ok: false, why: 'offline', kept };
    const joined = merge<Machine | BoardDesign>(base, mine, now.chart);
    return {
      ok: false,
      why: 'conflict',
      kept,
      doc,
      now: now.chart,
      version: now.version,
      conflicts: joined.ok ? [] : joined.conflicts,
      words: errors.map((e) => e.message),
    };
  }
  const title = said.success ? (said.data.detail ?? said.data.title) : undefined;
  return {
    ok: false,
    why: 'refused',
    kept,
    message:
      response.status === 401
        ? 'You are signed out. Sign in in another window, then save again; what you wrote is kept here.'
        : (title ?? `The server answered ${response.status}.`),
    mends: errors.map((e) => [e.message, e.mend].filter(Boolean).join(' ')),
  };
}

async function read(
  doc: Doc,
  id: string,
  fetch: typeof globalThis.fetch,
): Promise<{ chart: Machine | BoardDesign; version: number } | null> {
  const response = await fetch(addressOf(doc, id)).catch(() => null);
  if (!response?.ok) return null;
  const json = (await response.json()) as { machine?: Machine; design?: BoardDesign; version: number };
  const chart = json[doc];
  return chart ? { chart, version: json.version } : null;
}

export const withDoc = (kept: Kept, doc: Doc, chart: Machine | BoardDesign, version: number): Kept =>
  ({ ...kept, [doc]: chart, versions: { ...kept.versions, [doc]: version } }) as Kept;
