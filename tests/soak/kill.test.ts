/** A few rounds of `npm run soak -- kill`, the same at every run. */
import { expect, it, vi } from 'vitest';
import { killRounds } from './kill';
import { builtInStage, sharedStage } from './stage';

vi.setConfig({ testTimeout: 60_000 });

it.each([
  ['the built-in database', builtInStage, 2, 4],
  ['two servers', () => sharedStage(process.env.TEST_DATABASE_URL), 1, 2],
])('%s: nothing acknowledged is lost when servers and databases are killed', async (_name, open, rounds, seed) => {
  const stage = await open();
  try {
    const { faults, acknowledged } = await killRounds(stage, rounds, seed);
    expect(faults).toEqual([]);
    expect(acknowledged).toBeGreaterThan(0); // how many it is depends on the machine
  } finally {
    await stage.close();
  }
});
