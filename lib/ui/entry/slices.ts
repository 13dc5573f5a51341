/** Long work between frames: a few milliseconds at a time, so that typing never waits. */
import { advance, type Steps } from '@/lib/core/chart/entry';

const sliceMs = 8; // half a frame at 60 Hz

/** What the work gives; null when it was given up before its end. */
export function inSlices<T>(steps: Steps<T>, signal: AbortSignal): Promise<T | null> {
  return new Promise((resolve, reject) => {
    // A channel goes on in a window that is not shown too, where frames stop.
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      if (signal.aborted) return end(null);
      const until = performance.now() + sliceMs;
      try {
        const now = advance(steps, () => performance.now() < until);
        if (now.done) end(now.value);
        else port2.postMessage(null);
      } catch (reason) {
        port1.close();
        reject(reason);
      }
    };
    const end = (value: T | null) => {
      port1.close();
      resolve(value);
    };
    port2.postMessage(null);
  });
}
