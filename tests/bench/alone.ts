/** Runs a file of the benches as a browser gets it, bundled, in a process of its own: the loader of scripts adds a cost to every closure. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'esbuild';

export async function bundle(file: string): Promise<string> {
  const outfile = join(mkdtempSync(join(tmpdir(), 'bench-')), `${file}.mjs`);
  const entryPoints = [join(import.meta.dirname, `${file}.ts`)];
  await build({ entryPoints, bundle: true, format: 'esm', outfile, tsconfig: join(import.meta.dirname, '../../tsconfig.json') });
  return outfile;
}

/** Calls a global function of the bundle with plain data; its answer is plain data too. */
export function callAlone<T>(outfile: string, name: string, args: readonly unknown[]): T {
  const code = `let input = ''; for await (const part of process.stdin) input += part; await import(${JSON.stringify(outfile)}); console.log(JSON.stringify(${name}(...JSON.parse(input))));`;
  return JSON.parse(
    execFileSync(process.execPath, ['--input-type=module', '-e', code], { input: JSON.stringify(args), encoding: 'utf8' }),
  ) as T;
}
