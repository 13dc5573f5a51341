/** What the service worker keeps of the club's screens, and how a copy says that it is one. Pure, so that it can be tested anywhere. */
export const mostCopies = 150; // screens on one device; the longest unvisited go first
export const pagesCache = 'pages';
export const picturesCache = 'pictures';
export const mostPictures = 400;
export const aboutCache = 'about'; // whose copies they are
export const staticCache = (build: string) => `static ${build}`;

/** Screens that may be kept: those for reading and writing. Never the doors (sign-in, join, links to customers), never answers to programs. */
export const mayKeep = (path: string) =>
  /^\/$|^\/(machines|parts|help)(\/|$)|^\/designs\/[\w-]+(\/enter)?$|^\/pages\/[\w-]+(\/write|\/write-up)?$/.test(path);

/** Answers that may be kept: whole screens that are what was asked for. */
export const mayKeepAnswer = ({ status, redirected, type }: { status: number; redirected: boolean; type: string | null }) =>
  status === 200 && !redirected && (type?.startsWith('text/html') ?? false);

export interface Asked {
  method: string;
  /** The request's mode; `navigate` for a screen. */
  mode: string;
  ours: boolean; // asked of our own origin
  path: string;
}
/**
 * How a request is answered: `static` (never changes under its name: this device first), `picture` (the same, of one member), `screen` (network first, then a copy, then the
 * page that says that there is none), `shell` (network first, then this build's file) or `network`, as if there were no worker.
 */
export function answerBy(
  { method, mode, ours, path }: Asked,
  shell: readonly string[],
): 'static' | 'picture' | 'screen' | 'shell' | 'network' {
  if (method !== 'GET' || !ours) return 'network';
  if (path.startsWith('/_next/static/')) return 'static';
  if (mode === 'navigate') return 'screen';
  if (/^\/files\/[0-9a-f]{64}\/\d+$/.test(path)) return 'picture';
  return shell.includes(path) ? 'shell' : 'network';
}

/** The address of a picture without its size: `/files/3f9c…`. */
export const pictureFolder = (url: string): string => new URL(url).pathname.replace(/\/\d+$/, '');

/** Whether an answer only says that the server cannot be reached behind its proxy (RFC 9110 § 15.6.3–5). */
export const unreachable = (status: number) => status >= 502 && status <= 504;

/** Whether the screen is one that a browser is sent to without a session: nobody's copies stay on the device then. */
export const isDoor = (path: string) => path === '/sign-in' || path === '/welcome';

/** The writing screen that goes with a reading screen. */
export const writingOf = (path: string): string | null =>
  /^\/pages\/[\w-]+$/.test(path) && path !== '/pages/new' ? `${path}/write` : null;

/** Whether a screen is one that is written on: it asks for more of its build's files as long as it is open. */
export const isWriting = (path: string) =>
  /^\/(pages\/[\w-]+\/write|(machines|designs)\/[\w-]+\/(enter|photos\/[0-9a-f]{64}\/pin))$/.test(path);

/** The member that a screen was made for; null on a screen for nobody. */
export const memberOf = (html: string): string | null => /<meta name="member" content="([\w-]+)"/.exec(html)?.[1] ?? null;

/** The screen as a copy of that time; its style says so at the top. */
export const asCopy = (html: string, when: string) =>
  html.replace(/<body(?=[\s>])/, `<body data-copy-of="${when.replace(/["<>&$]/g, '')}"`);

/** The oldest of a list, oldest first, that is longer than may be. */
export const overflow = <T>(all: readonly T[], most = mostCopies): T[] => all.slice(0, Math.max(0, all.length - most));

/** The hashed files that a screen names. */
export const filesOf = (html: string): string[] => [...new Set(html.match(/\/_next\/static\/[^"'\\\s)?<>&]+/g))];

/** Names of caches that are of no use any more: static files older than this build's and the one before, whose windows may be open. */
export function stale(names: readonly string[], build: string): string[] {
  const own = staticCache(build);
  const others = names.filter((name) => name.startsWith('static ') && name !== own);
  return others.slice(0, -1);
}
