import { describe, expect, test } from 'vitest';
import {
  answerBy,
  asCopy,
  filesOf,
  isDoor,
  isWriting,
  mayKeep,
  mayKeepAnswer,
  memberOf,
  overflow,
  stale,
  staticCache,
  unreachable,
  writingOf,
} from '@/lib/offline/policy';

describe('which screens may be kept', () => {
  test.each([
    '/',
    '/machines',
    '/machines/lantern-regatta-3',
    '/parts',
    '/help/widgets',
    '/pages/k3n5q8r2t7w9',
    '/pages/k3n5q8r2t7w9/write',
    '/pages/k3n5q8r2t7w9/write-up',
  ])('%s', (path) => expect(mayKeep(path)).toBe(true));

  test.each([
    '/sign-in',
    '/welcome',
    '/join/abc',
    '/report/abc',
    '/club',
    '/search',
    '/offline',
    '/api/pages',
    '/api/pages/k3n5q8r2t7w9',
    '/pages/k3n5q8r2t7w9/history',
    '/pages/k3n5q8r2t7w9/history/bring-back',
    '/machinesx',
    '/x/machines',
    '//elsewhere/machines',
    '/pages/../sign-in',
  ])('not %s', (path) => expect(mayKeep(path)).toBe(false));

  test.each([
    ['a whole screen', { status: 200, redirected: false, type: 'text/html; charset=utf-8' }, true],
    ['one that somebody was led to', { status: 200, redirected: true, type: 'text/html' }, false],
    ['a page that is not there', { status: 404, redirected: false, type: 'text/html' }, false],
    ['a failure', { status: 500, redirected: false, type: 'text/html' }, false],
    ['a redirect that the browser follows itself', { status: 0, redirected: false, type: null }, false],
    ['an answer for a program', { status: 200, redirected: false, type: 'application/json' }, false],
  ])('%s: %o', (_, answer, may) => expect(mayKeepAnswer(answer)).toBe(may));
});

describe('who answers', () => {
  test('a picture is of this device first, and nothing else under its folder', () => {
    const asked = { method: 'GET', mode: 'no-cors', ours: true };
    expect(answerBy({ ...asked, path: `/files/${'a'.repeat(64)}/800` }, [])).toBe('picture');
    for (const path of ['/files/x/800', `/files/${'a'.repeat(64)}/800/x`, `/report/t/files/${'a'.repeat(64)}/800`])
      expect(answerBy({ ...asked, path }, [])).toBe('network');
  });

  const shell = ['/offline', '/enhance.js', '/icons/icon-192.png'];
  const screen = { method: 'GET', mode: 'navigate', ours: true, path: '/machines' };
  test.each([
    ['a screen', screen, 'screen'],
    ['a screen that is never kept, for the page that says so', { ...screen, path: '/club' }, 'screen'],
    ['a form that is sent', { ...screen, method: 'POST' }, 'network'],
    ['another site', { ...screen, ours: false }, 'network'],
    ['a hashed file', { ...screen, mode: 'cors', path: '/_next/static/chunks/a1b2.js' }, 'static'],
    ['a hashed file of another site', { ...screen, ours: false, path: '/_next/static/chunks/a1b2.js' }, 'network'],
    ['the small script', { ...screen, mode: 'no-cors', path: '/enhance.js' }, 'shell'],
    ['whether the server is there', { ...screen, method: 'HEAD', mode: 'cors', path: '/enhance.js' }, 'network'],
    ['an answer for a program', { ...screen, mode: 'cors', path: '/api/search' }, 'network'],
    ['what the framework fetches of a screen', { ...screen, mode: 'cors', path: '/machines' }, 'network'],
    ['the worker itself', { ...screen, mode: 'same-origin', path: '/sw.js' }, 'network'],
  ] as const)('%s', (_, asked, by) => expect(answerBy(asked, shell)).toBe(by));

  // RFC 9110 § 15.6: 502, 503 and 504 come from before the server or from one that cannot serve now; 500 is its own answer.
  test.each([
    [200, false],
    [404, false],
    [500, false],
    [501, false],
    [502, true],
    [503, true],
    [504, true],
    [505, false],
  ])('%d is the same as no network: %s', (status, is) => expect(unreachable(status)).toBe(is));
});

test('the screens that one is sent to without a session', () => {
  expect(['/sign-in', '/welcome'].every(isDoor)).toBe(true);
  // Links that members hand around, and screens of theirs.
  expect(['/', '/join/abc', '/report/abc', '/offline', '/sign-in/x', '/pages/sign-in'].some(isDoor)).toBe(false);
});

test('the writing screen that goes with a reading one', () => {
  expect(writingOf('/pages/k3n5q8r2t7w9')).toBe('/pages/k3n5q8r2t7w9/write');
  for (const path of ['/', '/pages/new', '/pages/k3n5q8r2t7w9/write', '/pages/k3n5q8r2t7w9/write-up', '/machines/a'])
    expect(writingOf(path)).toBeNull();
  expect(isWriting('/pages/k3n5q8r2t7w9/write')).toBe(true);
  expect(isWriting('/machines/tin-orchard/enter')).toBe(true);
  expect(isWriting('/designs/SB-2/enter')).toBe(true);
  expect(isWriting('/machines/tin-orchard')).toBe(false);
  expect(mayKeep('/designs/SB-2/enter')).toBe(true);
  expect(mayKeep('/machines/tin-orchard/enter')).toBe(true);
  expect(isWriting('/pages/k3n5q8r2t7w9/write-up')).toBe(false);
});

test('the oldest copies go', () => {
  expect(overflow(['a', 'b', 'c'], 3)).toEqual([]);
  expect(overflow(['a', 'b', 'c', 'd', 'e'], 3)).toEqual(['a', 'b']);
  expect(overflow(Array.from({ length: 151 }, (_, i) => i))).toEqual([0]);
});

describe('what a screen says of itself', () => {
  test('its member', () => {
    expect(memberOf('<head><meta name="member" content="m-1_A"/></head>')).toBe('m-1_A');
    expect(memberOf('<head><title>Sign in</title></head>')).toBeNull();
    expect(memberOf('<p>&lt;meta name="member" content="m-2"&gt;</p>')).toBeNull();
    expect(memberOf('<meta name="member" content=""/>')).toBeNull();
  });

  test('its hashed files, each once', () => {
    const html =
      '<link href="/_next/static/a.css"/><script src="/_next/static/b.js" async></script><script>x("\\"/_next/static/b.js\\"")</script>';
    expect(filesOf(html)).toEqual(['/_next/static/a.css', '/_next/static/b.js']);
    expect(filesOf('<p>nothing</p>')).toEqual([]);
  });

  test('that it is a copy, and of when', () => {
    expect(asCopy('<html><body><p>a</p></body></html>', '14:05')).toBe('<html><body data-copy-of="14:05"><p>a</p></body></html>');
    expect(asCopy('<body class="x">a<body>', '14:05')).toBe('<body data-copy-of="14:05" class="x">a<body>');
    expect(asCopy('<bodyguard><body>', 'x')).toBe('<bodyguard><body data-copy-of="x">');
    expect(asCopy('<body>', '"><script>$&')).toBe('<body data-copy-of="script">');
  });
});

describe('which builds stay', () => {
  const [a, b, c] = [staticCache('a'), staticCache('b'), staticCache('c')];
  test.each([
    ['the only one', [a], 'a', []],
    ['this and the one before', [a, b], 'b', []],
    ['three', [a, b, c], 'c', [a]],
    ['a build that comes again', [a, b], 'a', []],
    ['caches of another kind', ['pages', 'about', a, b, c], 'c', [a]],
    ['before this one has its own', [a, b], 'c', [a]],
  ])('%s', (_, names, build, gone) => expect(stale(names, build)).toEqual(gone));
});
