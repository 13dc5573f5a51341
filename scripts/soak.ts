/** `npm run soak -- NAME …` runs tests/soak/NAME.ts: long tests that could break what the product promises. Each prints its figures. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const dir = join(import.meta.dirname, '..', 'tests', 'soak');
const entrance = /^export async function main\(/m;
const isSoak = (name: string) =>
  /^[a-z]+$/.test(name) && existsSync(join(dir, `${name}.ts`)) && entrance.test(readFileSync(join(dir, `${name}.ts`), 'utf8'));
const [name = '', ...args] = process.argv.slice(2);
if (!isSoak(name)) {
  const known = readdirSync(dir)
    .map((file) => file.replace(/\.ts$/, ''))
    .filter(isSoak);
  console.error(`Name a soak: npm run soak -- ${known.join(' | ')}`);
  process.exit(2);
}
const { main } = (await import(join(dir, `${name}.ts`))) as { main(args: string[]): Promise<boolean> };
process.exit((await main(args)) ? 0 : 1);
