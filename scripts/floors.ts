/**
 * Checks the floors of the house: an import may go level or down, never up, and no file takes part in a cycle.
 * core ← notebook, widgets/definition ← live, search, store, access, http ← ui, widgets/view ← app, scripts.
 */
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';

const root = resolve(import.meta.dirname, '..');
const floors: [RegExp, number, string][] = [
  [/^content\//, 0, 'content'],
  [/^lib\/core\//, 0, 'core'],
  [/^lib\/archive\//, 2, 'services'],
  [/^lib\/notebook\//, 1, 'notebook'],
  [/^lib\/widgets\/(definition|registry|menu)\.ts$/, 1, 'widget definitions'],
  [/^lib\/widgets\/[^/]+\/(definition\.ts$|model\/)/, 1, 'widget definitions'],
  [/^lib\/live\/(client|device|kept|outbox|protocol|shelf|words)\.ts$/, 1, 'live client'],
  [/^lib\/(access|store|live|search|http|files)\//, 2, 'services'],
  [/^lib\/(ui|widgets|offline|print)\//, 3, 'ui'],
  [/^app\//, 4, 'app'],
  [/^scripts\//, 4, 'scripts'],
];
const pure = /^(react|react-dom|next|node:.*|fs|path|@tiptap\/.*|yjs|y-.*|pg|drizzle-orm.*|ws)$/;

const files: string[] = [];
const walk = (dir: string) => {
  for (const name of readdirSync(join(root, dir))) {
    const path = join(dir, name);
    if (statSync(join(root, path)).isDirectory()) walk(path);
    else if (/\.tsx?$/.test(name)) files.push(path);
  }
};
for (const dir of ['app', 'lib', 'scripts']) walk(dir);

const floorOf = (file: string) => floors.find(([pattern]) => pattern.test(file));
const find = (from: string, spec: string) => {
  const base = spec.startsWith('@/') ? join(root, spec.slice(2)) : resolve(root, dirname(from), spec);
  const hit = ['', '.ts', '.tsx', '/index.ts', '/index.tsx'].map((end) => base + end).find((p) => existsSync(p) && statSync(p).isFile());
  return hit ? relative(root, hit) : null;
};

const problems: string[] = [];
const graph = new Map<string, string[]>();
for (const file of files) {
  const here = floorOf(file);
  if (!here) {
    problems.push(`${file}: stands in no room; give it one in scripts/floors.ts`);
    continue;
  }
  const text = readFileSync(join(root, file), 'utf8');
  const local: string[] = [];
  for (const [, typeOnly, spec] of text.matchAll(/^\s*(?:import|export)\s+(type\s)?(?:[^'"]*?\sfrom\s+)?['"]([^'"]+)['"]/gm)) {
    if (!spec) continue;
    if (!spec.startsWith('.') && !spec.startsWith('@/')) {
      if (here[1] === 0 && pure.test(spec)) problems.push(`${file}: core is pure and may not import ${spec}`);
      continue;
    }
    const target = find(file, spec);
    if (!target || !/\.tsx?$/.test(target)) continue;
    const there = floorOf(target);
    if (there && there[1] > here[1]) problems.push(`${file} (${here[2]}) climbs to ${target} (${there[2]})`);
    if (!typeOnly) local.push(target);
  }
  graph.set(file, local);
}

const state = new Map<string, 'open' | 'done'>();
const visit = (file: string, trail: string[]) => {
  if (state.get(file) === 'done') return;
  if (state.get(file) === 'open') {
    problems.push(`cycle: ${[...trail.slice(trail.indexOf(file)), file].join(' → ')}`);
    return;
  }
  state.set(file, 'open');
  for (const next of graph.get(file) ?? []) visit(next, [...trail, file]);
  state.set(file, 'done');
};
for (const file of files) visit(file, []);

for (const problem of problems) console.error(problem);
console.log(problems.length ? `${problems.length} found` : `floors hold: ${files.length} files`);
process.exit(problems.length ? 1 : 0);
