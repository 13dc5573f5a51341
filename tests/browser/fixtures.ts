/** A demo server for each worker, and people signed in to it. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type BrowserContext, test as base, expect, type Page } from '@playwright/test';
import { startServer, type TestServer } from './server';

export const people = { ines: 'ines', tomas: 'tomas', wen: 'wen', priya: 'priya' } as const;
export type Who = keyof typeof people;
const demoMembers = JSON.parse(readFileSync(join(import.meta.dirname, '..', '..', 'content', 'club.json'), 'utf8')) as {
  password: string;
  members: { name: string; email: string }[];
};
export const { password } = demoMembers;
const phone = { width: 390, height: 844 };

export const emailOf = (who: Who) =>
  demoMembers.members.find((m) => m.email.startsWith(`${who}@`) || m.name.toLowerCase().startsWith(who))?.email ?? who;

export async function signIn(page: Page, url: string, who: Who) {
  await page.goto(`${url}/sign-in`);
  await page.getByLabel('E-mail').fill(emailOf(who));
  await page.getByLabel('Password').fill(demoMembers.password);
  await page.getByRole('button', { name: 'Sign in' }).click();
  await expect(page.getByRole('heading', { name: 'On the bench' })).toBeVisible();
}

/** Opens a page of the club by its title. */
export async function openPage(page: Page, url: string, title: string) {
  await page.goto(`${url}/`);
  const link = page.getByRole('link', { name: title, exact: true }).first();
  // The bench shows the newest; a page that others pushed off it is searched for.
  if ((await link.count()) === 0) await page.goto(`${url}/search?q=${encodeURIComponent(title)}`);
  await link.click();
  await expect(page.getByRole('heading', { level: 1, name: title })).toBeVisible();
}

/** From the reading page to the live one, ready to write. */
export async function startWriting(page: Page) {
  await page.getByRole('link', { name: 'Write', exact: true }).click();
  await expect(page.locator('.ProseMirror')).toBeVisible();
}

export const saved = (page: Page) => expect(page.locator('.saved')).toContainText(/^(Saved \d\d:\d\d|All saved)$/);

interface Worker {
  server: TestServer;
}
interface Each {
  /** A signed-in page in a browser context of its own. */
  as(who: Who, options?: { phone?: boolean; dark?: boolean }): Promise<Page>;
}
export const test = base.extend<Each, Worker>({
  server: [
    // biome-ignore lint/correctness/noEmptyPattern: the library reads the names from the pattern
    async ({}, use) => {
      const server = await startServer({ demo: true });
      await use(server);
      await server.stop();
    },
    { scope: 'worker', timeout: 120_000 },
  ],
  as: async ({ browser, server }, use) => {
    const open: BrowserContext[] = [];
    await use(async (who, options = {}) => {
      const context = await browser.newContext({
        viewport: options.phone ? phone : { width: 1440, height: 900 },
        hasTouch: options.phone,
        colorScheme: options.dark ? 'dark' : 'light',
      });
      open.push(context);
      const page = await context.newPage();
      await signIn(page, server.url, who);
      return page;
    });
    for (const context of open) await context.close();
  },
});
export { expect };
