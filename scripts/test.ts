/**
 * Passes every test: checks, unit tests, browser tests. Installs what they need. Ends with the line `N passed, N failed`.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { buildWhenNeeded } from './build';

const root = join(import.meta.dirname, '..');
process.chdir(root);
const out = mkdtempSync(join(tmpdir(), 'fettlebook-test-'));
let passed = 0;
let failed = 0;

const run = (name: string, command: string, args: string[], env: Record<string, string> = {}) => {
  console.log(`\n── ${name}`);
  const began = performance.now();
  const { status } = spawnSync(command, args, { stdio: ['ignore', 'inherit', 'inherit'], env: { ...process.env, ...env } });
  console.log(`── ${name}: ${status === 0 ? 'well' : 'failed'} in ${((performance.now() - began) / 1000).toFixed(1)} s`);
  return status === 0;
};
const bin = (name: string) => join('node_modules', '.bin', name);
const count = (well: boolean) => {
  if (well) passed += 1;
  else failed += 1;
};

/** Adds what a report of vitest says; a run that failed without a failed test, or left no report, counts as a failure. */
function addUnitTests(file: string, well: boolean) {
  if (!existsSync(file)) {
    failed += 1;
    return;
  }
  const report = JSON.parse(readFileSync(file, 'utf8')) as { numPassedTests: number; numFailedTests: number };
  passed += report.numPassedTests;
  failed += report.numFailedTests;
  if (!well && report.numFailedTests === 0) failed += 1;
}

/** Debian's chromium; installed when it is missing and this may be done. */
function chromium(): string {
  const found = ['/usr/bin/chromium', '/usr/bin/chromium-browser', process.env.CHROMIUM ?? ''].find((p) => p && existsSync(p));
  if (found) return found;
  const apt = process.getuid?.() === 0 ? [] : ['sudo', '-n'];
  const steps = [
    [...apt, 'apt-get', 'update', '-qq'],
    [...apt, 'apt-get', 'install', '-y', '-qq', 'chromium'],
  ];
  for (const [command, ...args] of steps) {
    const { status } = spawnSync(command ?? '', args, {
      stdio: ['ignore', 'inherit', 'inherit'],
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
    });
    if (status !== 0) {
      console.error('The browser tests need Debian’s chromium: install the package chromium, or name another one in CHROMIUM.');
      return '';
    }
  }
  return '/usr/bin/chromium';
}

count(run('types', bin('tsc'), ['--noEmit']));
count(run('lint', bin('biome'), ['check', '.']));
count(run('floors', bin('tsx'), ['scripts/floors.ts']));

const unit = join(out, 'unit.json');
const unitWell = run('unit tests', bin('vitest'), ['run', '--reporter=default', '--reporter=json', `--outputFile.json=${unit}`]);
addUnitTests(unit, unitWell);

const postgres = join(out, 'postgres.json');
const postgresWell = run('tests on Debian’s PostgreSQL', bin('tsx'), ['scripts/test-postgres.ts', postgres]);
addUnitTests(postgres, postgresWell);

const browser = chromium();
if (browser) {
  buildWhenNeeded();
  const file = join(out, 'browser.json');
  const well = run('browser tests', bin('playwright'), ['test', '--reporter=line,json'], {
    PLAYWRIGHT_JSON_OUTPUT_NAME: file,
    CHROMIUM: browser,
  });
  if (existsSync(file)) {
    const { stats } = JSON.parse(readFileSync(file, 'utf8')) as { stats: { expected: number; unexpected: number; flaky: number } };
    passed += stats.expected;
    failed += stats.unexpected + stats.flaky;
    if (!well && stats.unexpected + stats.flaky === 0) failed += 1;
  } else failed += 1;
} else failed += 1;

console.log(`\n${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
