/** A few rounds of `npm run soak -- kill`, the same at every run. */
import { expect, it, vi } from 'vitest';
import { killRounds } from './kill';
import { builtInStage, type Stage, sharedStage } from './stage';

vi.setConfig({ testTimeout: 180_000 }); // more than a round's own limits together, so that what did not come back is named

const url = process.env.TEST_DATABASE_URL; // set by scripts/test-postgres.ts
const cases: [name: string, open: () => Promise<Stage>, rounds: number, seed: number][] = url
  ? [['two servers on that database', () => sharedStage(url), 3, 7]]
  : [
      ['the built-in database', builtInStage, 2, 4],
      ['two servers', () => sharedStage(), 1, 2],
    ];

it.each(cases)('%s: nothing acknowledged is lost when servers and databases are killed', async (_name, open, rounds, seed) => {
  const stage = await open();
  try {
    const { faults, acknowledged } = await killRounds(stage, rounds, seed);
    expect(faults).toEqual([]);
    expect(acknowledged).toBeGreaterThan(0); // how many it is depends on the machine
  } finally {
    await stage.close();
  }
});
