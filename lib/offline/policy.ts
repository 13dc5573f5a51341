/** What the service worker keeps of the club's screens, and how a copy says that it is one. Pure, so that it can be tested anywhere. */
export const mostCopies = 150; // screens on one device; the longest unvisited go first
export const pagesCache = 'pages';
export const staticCache = (build: string) => `static ${build}`;

/** Screens that may be kept: those for reading and writing. Never the doors (sign-in, join, links to customers), never answers to programs. */
export const mayKeep = (path: string) => /^\/$|^\/(machines|parts|help)(\/|$)|^\/pages\/[\w-]+(\/write|\/write-up)?$/.test(path);

/** The writing screen that goes with a reading screen. */
export const writingOf = (path: string): string | null => (/^\/pages\/[\w-]+$/.test(path) ? `${path}/write` : null);

/** The member that a screen was made for; null on a screen for nobody. */
export const memberOf = (html: string): string | null => /<meta name="member" content="([\w-]+)"/.exec(html)?.[1] ?? null;

/** The screen as a copy of that time; its style says so at the top. */
export const asCopy = (html: string, when: string) => html.replace(/<body(?=[\s>])/, `<body data-copy-of="${when.replace(/["<>&]/g, '')}"`);

/** Names of caches that are of no use any more: static files older than this build's and the one before, whose windows may be open. */
export function stale(names: readonly string[], build: string): string[] {
  const builds = names.filter((name) => name.startsWith('static '));
  const kept = new Set([staticCache(build), ...builds.filter((name) => name !== staticCache(build)).slice(-1)]);
  return builds.filter((name) => !kept.has(name));
}
