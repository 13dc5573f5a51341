/**
 * Random editing by five people on two servers, over many seeds.
 *
 *   npm run soak -- converge [seeds] [first seed]
 */
import { converge } from '../live/converge-run';

const atOnce = 4; // runs mostly wait

export async function main([count = '1000', first = '1']: string[]): Promise<boolean> {
  const { error } = console;
  console.error = () => {}; // the servers tell of each failure that they are given
  const from = Number(first);
  const failed: number[] = [];
  const began = performance.now();
  let next = from;
  const run = async () => {
    while (next < from + Number(count)) {
      const seed = next++;
      try {
        await converge(seed);
      } catch (fault) {
        failed.push(seed);
        error(fault);
      }
    }
  };
  await Promise.all(Array.from({ length: atOnce }, run));
  const seconds = Math.round((performance.now() - began) / 1000);
  console.log(JSON.stringify({ soak: 'converge', seeds: Number(count), from, people: 5, servers: 2, failed, seconds }));
  return failed.length === 0;
}
