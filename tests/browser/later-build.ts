/** The build after this one, as a club gets it with an update: other files, another service worker, another document schema. */
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, renameSync, statSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, dirname, extname, join } from 'node:path';
import { schemaVersion } from '@/lib/live/protocol';

const root = join(import.meta.dirname, '..', '..');
const parts = ['app', 'content', 'lib', 'scripts', 'next.config.ts', 'package.json', 'package-lock.json', 'tsconfig.json'];
const texts = new Set(['.js', '.css', '.json', '.html', '.rsc', '.meta', '.body', '.mjs', '']);

/**
 * Makes it from the present build, which takes a second and not a minute, and gives its folder: every script and style has another name,
 * and the old names are gone; the service worker is of another build; both ends have the next version of the schema.
 */
export function laterBuild(): string {
  const folder = mkdtempSync(join(tmpdir(), 'fettlebook-later-'));
  for (const part of parts) cpSync(join(root, part), join(folder, part), { recursive: true });
  cpSync(join(root, '.next'), join(folder, '.next'), {
    recursive: true,
    verbatimSymlinks: true,
    filter: (path) => path !== join(root, '.next', 'cache'),
  });
  symlinkSync(join(root, 'node_modules'), join(folder, 'node_modules'));
  const inFolder = (path: string) => join(folder, path);

  const chunks = filesBelow(inFolder('.next/static')).filter((path) => /\.(js|css)$/.test(path) && dirname(path).endsWith('chunks'));
  const names = new Map(chunks.map((path) => [basename(path), `later-${basename(path)}`]));
  const named = new RegExp([...names.keys()].map((name) => name.replace(/[.]/g, '\\.')).join('|'), 'g');
  let built = 0;
  for (const path of filesBelow(inFolder('.next'))) {
    if (!texts.has(extname(path))) continue;
    const before = readFileSync(path, 'utf8');
    const after = before.replace(named, (name) => names.get(name) ?? name).replaceAll(root, folder);
    const raised = after.replace(/\bschema:String\([\w.]+\)/g, () => {
      built++;
      return `schema:"${schemaVersion + 1}"`;
    });
    if (raised !== before) writeFileSync(path, raised);
  }
  for (const path of chunks) renameSync(path, join(dirname(path), `later-${basename(path)}`));
  edit(inFolder('.next/offline/worker.js'), buildId(), (id) => `${id.slice(0, -5)}later`);
  edit(inFolder('lib/live/protocol.ts'), `schemaVersion = ${schemaVersion};`, () => `schemaVersion = ${schemaVersion + 1};`);
  if (built < 2) throw new Error(`The schema's version was found ${built} times in the build; the editor and the sender each hold it.`);
  return folder;
}

const buildId = () => readFileSync(join(root, '.next', 'fettlebook-build'), 'utf8').slice(0, 16);

function edit(path: string, from: string, to: (text: string) => string) {
  const text = readFileSync(path, 'utf8');
  if (!text.includes(from)) throw new Error(`${path} does not hold ${from}.`);
  writeFileSync(path, text.replaceAll(from, to(from)));
}

function filesBelow(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    return entry.isDirectory() ? filesBelow(path) : entry.isFile() && statSync(path).size > 0 ? [path] : [];
  });
}
