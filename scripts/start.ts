/**
 * Starts Fettlebook: builds when the sources have changed, then serves.
 *
 *   npm start                first run asks for the owner's account
 *   npm run demo             the demo club, in a data folder of its own
 *
 * `--built` serves what was last built, whatever has changed since; the tests use it.
 */
import { join } from 'node:path';
import { buildWhenNeeded } from './build';

const root = join(import.meta.dirname, '..');
process.chdir(root);
process.env.NEXT_TELEMETRY_DISABLED = '1';
// Whoever read the log is gone (a pipe that ended, a terminal that closed): no reason to stop, and not to be logged in its turn.
for (const log of [process.stdout, process.stderr]) log.on('error', () => {});
const dev = process.argv.includes('--dev');
Object.assign(process.env, { NODE_ENV: dev ? 'development' : 'production' });
if (process.argv.includes('--demo')) {
  process.env.DEMO = '1';
  process.env.DATA_DIR ??= './data/demo';
}

if (!dev && !process.argv.includes('--built')) buildWhenNeeded();
const { serve } = await import('./server');
try {
  const running = await serve({ dev });
  for (const signal of ['SIGINT', 'SIGTERM'] as const) {
    process.once(signal, async () => {
      await running.close();
      process.exit(0);
    });
  }
  const { demoWelcome } = await import('./seed');
  console.log(`\nFettlebook is at ${running.url}  (ready in ${(running.startedMs / 1000).toFixed(1)} s)`);
  console.log(process.env.DEMO ? demoWelcome() : 'The first account that is made there becomes the owner.');
  console.log('Stop with Ctrl-C.\n');
} catch (error) {
  console.error(`\n${error instanceof Error ? error.message : String(error)}\n`);
  process.exit(1);
}
