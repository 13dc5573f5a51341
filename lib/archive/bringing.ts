/**
 * Bringing an archive in goes on beside the request that asked for it. How far it is and what came of it stand beside the archive on its
 * shelf, so any window can look, also after the one that asked was closed.
 */
import { readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import type { Done, Imported } from './import';
import { type Progress, steps, type Tell } from './progress';
import { shelfFolder, shelfPlace } from './shelf';

export type Outcome = { ok: true; counts: Record<Done, number> } | { ok: false; message: string };
export type Bringing =
  | { state: 'going'; progress: Progress }
  | { state: 'cut off' } // the server stopped meanwhile
  | { state: 'over'; outcome: Outcome };

const beat = 500; // ms from one note of the progress to the next
const silence = 30_000; // ms without a note, after which nobody works on it any more

/** Begins, and resolves when it is over; null when somebody brings this archive in already. `work` throws only when the server is at fault. */
export function bringIn(id: string, work: (tell: Tell) => Promise<Imported>): Promise<Outcome> | null {
  const going = shelfPlace(id, 'going');
  let progress: Progress = { step: steps[0], done: 0, of: 0 };
  if (!going || !mark(going, progress)) return null;
  const notes = setInterval(() => note(going, progress), beat);
  return work((now) => {
    progress = now;
  })
    .then(outcomeOf, (error): Outcome => {
      console.error('An archive could not be brought in:', error);
      return {
        ok: false,
        message:
          'The server failed at it. Bring it in again: what is here already is passed over. If it happens again, tell whoever runs this notebook.',
      };
    })
    .then((outcome) => {
      clearInterval(notes);
      note(shelfPlace(id, 'over') as string, outcome);
      rmSync(going, { force: true });
      return outcome;
    });
}

/** How it stands with the archive; null when nobody began to bring it in. */
export function bringing(id: string): Bringing | null {
  const [going, over] = [shelfPlace(id, 'going'), shelfPlace(id, 'over')];
  if (going && (age(going) ?? 0) >= silence) return { state: 'cut off' };
  const progress = going && read<Progress>(going);
  if (progress) return { state: 'going', progress };
  const outcome = over && read<Outcome>(over);
  return outcome ? { state: 'over', outcome } : null;
}

/** The archives of the last day that somebody began to bring in. */
export function allBringing(): { id: string; bringing: Bringing }[] {
  const ids = new Set(namesOnShelf().flatMap((name) => /^(.+)\.(?:going|over)$/.exec(name)?.[1] ?? []));
  return [...ids].flatMap((id) => {
    const now = bringing(id);
    return now ? [{ id, bringing: now }] : [];
  });
}

function outcomeOf(result: Imported): Outcome {
  if (!result.ok) return { ok: false, message: `${result.message} ${result.mend} Nothing was kept.` };
  const counts = { added: 0, 'added beside': 0, replaced: 0, kept: 0, same: 0 };
  for (const { done } of result.rows) counts[done]++;
  return { ok: true, counts };
}

/** Makes the file unless somebody's is there and fresh: of two who press at once, one goes on. */
function mark(path: string, first: Progress): boolean {
  if ((age(path) ?? 0) >= silence) rmSync(path, { force: true });
  try {
    writeFileSync(path, JSON.stringify(first), { flag: 'wx', mode: 0o600 });
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  }
}

/** In one stroke, so that nobody reads half of it. */
function put(path: string, json: unknown) {
  writeFileSync(`${path}.next`, JSON.stringify(json), { mode: 0o600 });
  renameSync(`${path}.next`, path);
}

/** Nobody waits for these notes: one that cannot be written, as on a full disk, ends neither the work nor the server. */
function note(path: string, json: unknown) {
  try {
    put(path, json);
  } catch (error) {
    console.error('How far an archive is could not be noted:', error);
  }
}

const unlessMissing = <T>(look: () => T): T | null => {
  try {
    return look();
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
};
const age = (path: string) => unlessMissing(() => Date.now() - statSync(path).mtimeMs);
const read = <T>(path: string) => unlessMissing(() => JSON.parse(readFileSync(path, 'utf8')) as T);
const namesOnShelf = () => unlessMissing(() => readdirSync(shelfFolder())) ?? [];
