/** The one live server of the process, for route handlers: the framework bundles them apart from the server that made it. */
import type { Live } from './server';

const place = globalThis as { [key: symbol]: Live | undefined };
const key = Symbol.for('fettlebook.live');

export function setLive(live: Live) {
  place[key] = live;
}

/** Throws before the server has started. */
export function live(): Live {
  const found = place[key];
  if (!found) throw new Error('The live server has not been started; pages are served by scripts/start.ts.');
  return found;
}
