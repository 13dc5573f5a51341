/** The thread that folds are computed on. */
import { setPriority } from 'node:os';
import { parentPort } from 'node:worker_threads';
import { type FoldWork, foldEntries } from './fold-work';

setPriority(10); // on Linux of this thread only: letters on their way to others come first
parentPort?.on('message', (work: FoldWork) => {
  try {
    const done = foldEntries(work);
    parentPort?.postMessage({ done });
  } catch (error) {
    parentPort?.postMessage({ failed: error instanceof Error ? error.message : String(error) });
  }
});
parentPort?.postMessage({ ready: true });
