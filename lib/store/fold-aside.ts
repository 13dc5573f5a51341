/** Computes folds on a thread of their own, one at a time, so that no page waits for them. */
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import type { Folded, FoldWork } from './fold-work';

const startMs = 60_000; // a busy machine takes seconds to start a thread
const mostMs = 60_000; // for one step; what takes longer is no honest page
const idleMs = 60_000; // then the thread and its memory are let go
const mostMegabytes = 1024; // of memory for the thread

/** The entries themselves cannot be folded: trying again would give the same. */
export class UnfoldableError extends Error {}

type Answer = { ready: true } | { done: Folded } | { failed: string };

const newThread = () =>
  new Worker(join(import.meta.dirname, 'fold-thread.mjs'), { execArgv: [], resourceLimits: { maxOldGenerationSizeMb: mostMegabytes } });

export interface FoldThread {
  /** Rejects with UnfoldableError when the entries are to blame. */
  fold(work: FoldWork): Promise<Folded>;
  close(): Promise<void>;
}

export function foldThread(limitMs = mostMs): FoldThread {
  let thread: Worker | null = null; // started at the first fold, and again after one that had to be stopped
  let last: Promise<unknown> = Promise.resolve();
  let idle: NodeJS.Timeout | undefined;

  async function close() {
    clearTimeout(idle);
    const open = thread;
    thread = null;
    await open?.terminate();
  }

  /** Waits for one answer of the thread; one that fails, ends or takes too long is stopped. */
  function answer(from: Worker, ms: number, late: () => Error): Promise<Answer> {
    return new Promise((resolve, reject) => {
      const stop = (error: Error) => {
        settle();
        if (thread === from) thread = null;
        void from.terminate();
        reject(error);
      };
      const settle = () => {
        clearTimeout(timer);
        from.off('message', onMessage).off('error', onError).off('exit', onExit);
      };
      const onMessage = (message: Answer) => {
        settle();
        resolve(message);
      };
      const onError = (error: NodeJS.ErrnoException) =>
        stop(error.code === 'ERR_WORKER_OUT_OF_MEMORY' ? new UnfoldableError('it takes too much memory') : error);
      const onExit = () => stop(new Error('the thread for folding ended'));
      const timer = setTimeout(() => stop(late()), ms);
      from.on('message', onMessage).on('error', onError).on('exit', onExit);
    });
  }

  async function ready(): Promise<Worker> {
    if (thread) return thread;
    const fresh = newThread();
    fresh.on('error', () => {}); // between two folds
    fresh.unref();
    thread = fresh;
    await answer(fresh, startMs, () => new Error('the thread for folding does not start'));
    return fresh;
  }

  async function foldNow(work: FoldWork): Promise<Folded> {
    clearTimeout(idle);
    const at = await ready();
    at.ref();
    const coming = answer(at, limitMs, () => new UnfoldableError(`it takes longer than ${limitMs / 1000} s`));
    at.postMessage(work);
    const said = await coming.finally(() => {
      at.unref();
      idle = setTimeout(close, idleMs);
      idle.unref();
    });
    if ('done' in said) return said.done;
    throw new UnfoldableError('failed' in said ? said.failed : 'the thread for folding gave no answer');
  }

  return {
    fold(work) {
      const mine = last.then(() => foldNow(work));
      last = mine.catch(() => {});
      return mine;
    },
    close,
  };
}
