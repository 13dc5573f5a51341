/** The shell that works without network: whose copies stay on a device, for how long, and what signing out takes away. */
import type { BrowserContext, Page } from '@playwright/test';
import { clean } from './clean';
import { expect, openPage, saved, signIn, startWriting, test } from './fixtures';

const title = 'Bench rules';
const settled = async (page: Page) => {
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
};
const copies = (page: Page) =>
  page.evaluate(async () => {
    if (!(await caches.has('pages'))) return [];
    return (await (await caches.open('pages')).keys()).map((request) => new URL(request.url).pathname);
  });
const kept = (page: Page, path: string) => expect.poll(() => copies(page)).toContain(path);
const isCopy = (page: Page) => expect(page.locator('body')).toHaveAttribute('data-copy-of', /\d\d:\d\d/);
const signOut = (page: Page) => page.getByRole('button', { name: 'Sign out' }).click();
const signedOut = (page: Page) => expect(page.getByRole('button', { name: 'Sign in' })).toBeVisible();

/** As the editor notes what could not be sent; here without a document, so that nothing can be sent. */
const pretendKept = (page: Page, member: string | null) =>
  page.evaluate(
    ({ member, title }) => {
      const who = member ?? document.querySelector<HTMLMetaElement>('meta[name=member]')?.content;
      const entry = { member: who, title, changes: 3, window: 'w', at: 1 };
      localStorage.setItem('fettlebook.kept', JSON.stringify({ [`nosuchpage00 ${who}`]: entry }));
    },
    { member, title },
  );

test('the very first screen on a device opens again without network', async ({ as }) => {
  const ines = await as('ines');
  await settled(ines);
  await kept(ines, '/');
  await ines.context().setOffline(true);
  await ines.reload();
  await expect(ines.getByRole('heading', { name: 'On the bench' })).toBeVisible();
  await isCopy(ines);
});

test('a page that was read, its writing screen that never was, and back again', async ({ as, server }) => {
  const ines = await as('ines');
  await settled(ines);
  await openPage(ines, server.url, title);
  const path = new URL(ines.url()).pathname;
  await kept(ines, `${path}/write`);
  const errors: string[] = [];
  ines.on('pageerror', (error) => errors.push(error.message));
  await ines.context().setOffline(true);
  await ines.goto(`${server.url}${path}/write`);
  await isCopy(ines);
  await expect(ines.locator('.ProseMirror')).toBeVisible();
  await ines.getByRole('link', { name: 'Done writing' }).click();
  await expect(ines.getByRole('heading', { level: 1, name: title })).toBeVisible();
  await isCopy(ines);
  expect(errors).toEqual([]);
});

test('a server that does not answer in three seconds is not waited for where there is a copy', async ({ as, server }) => {
  const ines = await as('ines');
  await settled(ines);
  await ines.goto(`${server.url}/machines`);
  await kept(ines, '/machines');
  server.process.kill('SIGSTOP');
  try {
    await ines.goto(`${server.url}/machines`);
    await isCopy(ines);
  } finally {
    server.process.kill('SIGCONT');
  }
  await ines.goto(`${server.url}/machines`);
  await expect(ines.locator('body')).not.toHaveAttribute('data-copy-of');
});

test('without network, the page that is shown instead names what opens and what waits', async ({ as, server }) => {
  const ines = await as('ines');
  await settled(ines);
  await openPage(ines, server.url, title);
  await kept(ines, new URL(ines.url()).pathname);
  await pretendKept(ines, null);
  await ines.context().setOffline(true);
  await ines.goto(`${server.url}/club`);
  await expect(ines.getByRole('heading', { name: 'No network' })).toBeVisible();
  await expect(ines.locator('[data-opens]').getByRole('link', { name: title })).toBeVisible();
  await expect(ines.locator('[data-waits]')).toContainText('3 changes');
  await ines.context().setOffline(false);
  await ines.getByRole('link', { name: 'Try again' }).click();
  await expect(ines.getByRole('button', { name: 'Sign out' })).toBeVisible();
});

const leaves: [string, (page: Page, context: BrowserContext, url: string) => Promise<void>][] = [
  [
    'whose session has ended',
    async (page, context, url) => {
      await context.clearCookies();
      await page.goto(`${url}/machines`);
      await signedOut(page);
    },
  ],
  [
    'whose place another member takes',
    async (page, context, url) => {
      await context.clearCookies();
      await signIn(page, url, 'tomas');
    },
  ],
];
for (const [whose, leave] of leaves) {
  test(`the copies of a member ${whose} go`, async ({ as, server }) => {
    const ines = await as('ines');
    await settled(ines);
    await openPage(ines, server.url, title);
    const path = new URL(ines.url()).pathname;
    await kept(ines, `${path}/write`);
    await leave(ines, ines.context(), server.url);
    await expect.poll(async () => (await copies(ines)).filter((each) => each.startsWith('/pages/'))).toEqual([]);
  });
}

test('signing out has the browser forget the club', async ({ as, server }) => {
  const ines = await as('ines');
  await settled(ines);
  await ines.goto(`${server.url}/club`);
  await ines.evaluate(() => localStorage.setItem('something', 'kept'));
  await signOut(ines);
  await signedOut(ines);
  expect(await ines.evaluate(() => localStorage.length)).toBe(0);
  expect(await ines.evaluate(async () => (await navigator.serviceWorker.getRegistrations()).length)).toBe(0);
  expect(await ines.evaluate(() => caches.keys())).toEqual([]);
  await ines.goto(`${server.url}/club`);
  await signedOut(ines);
});

test('what another member wrote on the device stays when this one signs out', async ({ as, server }) => {
  const ines = await as('ines');
  await settled(ines);
  await ines.goto(`${server.url}/club`);
  await pretendKept(ines, 'somebodyelse');
  await signOut(ines);
  await signedOut(ines);
  expect(await ines.evaluate(() => localStorage.getItem('fettlebook.kept'))).toContain('somebodyelse');
  expect(await copies(ines)).toEqual([]);
});

test('who has changes that cannot be sent is asked, by number and title, before they are lost', async ({ as, server }) => {
  const ines = await as('ines');
  await settled(ines);
  await ines.goto(`${server.url}/club`);
  await pretendKept(ines, null);
  const asked: string[] = [];
  ines.on('dialog', (dialog) => {
    asked.push(dialog.message());
    void (asked.length === 1 ? dialog.dismiss() : dialog.accept());
  });
  await signOut(ines);
  await expect.poll(() => asked.length, { timeout: 30_000 }).toBe(1);
  expect(asked[0]).toContain('1 page has changes that only this device has.');
  expect(asked[0]).toContain(`${title} (3)`);
  expect(await ines.evaluate(() => localStorage.getItem('fettlebook.kept'))).toContain('nosuchpage00');
  await expect(ines.getByRole('button', { name: 'Sign out' })).toBeVisible();
  await signOut(ines);
  await expect(ines.getByRole('button', { name: 'Sign in' })).toBeVisible({ timeout: 30_000 });
});

test('without network nobody is half signed out', async ({ as, server }) => {
  const ines = await as('ines');
  await settled(ines);
  await ines.goto(`${server.url}/machines`);
  await kept(ines, '/machines');
  await ines.goto(`${server.url}/club`);
  await ines.context().setOffline(true);
  await signOut(ines);
  await expect(ines.getByText('Signing out needs the network. Nothing was changed.')).toBeVisible();
  expect(await copies(ines)).toContain('/machines');
});

test('signing out works without scripts, and not from another site', async ({ as, browser, server }) => {
  const ines = await as('ines');
  const still = await browser.newContext({ javaScriptEnabled: false, storageState: await ines.context().storageState() });
  const page = await still.newPage();
  const foreign = await page.request.post(`${server.url}/sign-out`, { form: {}, headers: { origin: 'https://elsewhere.example' } });
  expect(foreign.status()).toBe(403);
  await page.goto(`${server.url}/club`);
  const answer = page.waitForResponse((response) => new URL(response.url()).pathname === '/sign-out');
  await signOut(page);
  expect((await (await answer).allHeaders())['clear-site-data']).toBe('"cache"'); // W3C Clear Site Data § 3.1
  await signedOut(page);
  await still.close();
});

test('signing out without scripts takes nothing that was not sent, of whomever; the next sign-in sends it', async ({ as, server }) => {
  const device = await as('tomas');
  await settled(device);
  await openPage(device, server.url, title);
  const path = new URL(device.url()).pathname;
  await startWriting(device);
  await saved(device);
  await device.context().setOffline(true);
  await device.locator('.ProseMirror').click();
  await device.keyboard.press('Control+End');
  await device.keyboard.type(' Kept by Tomas.');
  await expect(device.locator('.saved')).toContainText('Offline: 15 changes kept on this device');
  await device.context().clearCookies(); // a window that goes is let onto the network for a moment, and would send them
  await device.goto('about:blank');
  await device.context().setOffline(false);

  await signIn(device, server.url, 'ines');
  await device.evaluate(() => localStorage.setItem('fettlebook.pins /api/machines/m/photos/p/pins somebodyelse', '{}'));
  await device.goto(`${server.url}/club`);
  await device.evaluate(() => HTMLFormElement.prototype.submit.call(document.querySelector('[data-sign-out]'))); // no script is asked
  await signedOut(device);
  expect(await device.evaluate(() => Object.keys(localStorage))).toContain('fettlebook.pins /api/machines/m/photos/p/pins somebodyelse');
  await signIn(device, server.url, 'tomas');
  await expect(device.getByText('Everything that was written here without network has been sent.')).toBeVisible();
  await device.goto(`${server.url}${path}`);
  await expect(device.getByText('Kept by Tomas.')).toBeVisible();
});

test('who has entries of a chart that were never saved is asked before they are lost, and keeps those of others', async ({
  as,
  server,
}) => {
  const ines = await as('ines');
  await ines.goto(`${server.url}/club`);
  await ines.evaluate(() => {
    const who = document.querySelector<HTMLMetaElement>('meta[name=member]')?.content;
    for (const [kind, of] of [
      ['entry machine kelpie', who],
      ['pins /api/designs/sb-1/photos/0a/pins', who],
      ['entry machine kelpie', 'somebodyelse'],
    ])
      localStorage.setItem(`fettlebook.${kind} ${of}`, '{}');
  });
  const asked: string[] = [];
  ines.on('dialog', (dialog) => {
    asked.push(dialog.message());
    void (asked.length === 1 ? dialog.dismiss() : dialog.accept());
  });
  const drafts = () => ines.evaluate(() => Object.keys(localStorage).filter((key) => /^fettlebook\.(entry|pins) /.test(key)).length);
  await signOut(ines);
  await expect
    .poll(() => asked)
    .toEqual(['Entries of charts that were never saved would be lost: machine kelpie, design sb-1. Sign out all the same?']);
  expect(await drafts()).toBe(3);
  await signOut(ines);
  await signedOut(ines);
  expect(await drafts()).toBe(1);
});

for (const [name, options] of [
  ['desktop', {}],
  ['phone', { phone: true, dark: true }],
] as const) {
  test(`axe finds nothing and nothing overflows, ${name}`, async ({ as, server }) => {
    const ines = await as('ines', options);
    await settled(ines);
    await ines.goto(`${server.url}/machines`);
    await kept(ines, '/machines');
    await pretendKept(ines, null);
    await ines.context().setOffline(true);
    for (const path of ['/machines', '/club']) {
      await ines.goto(server.url + path);
      await expect(ines.getByText(title)).toBeVisible(); // what waits to be sent
      await clean(ines, path);
    }
  });
}
