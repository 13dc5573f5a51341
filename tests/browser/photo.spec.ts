/** Photos on a page: sent, marked by two people at once on phones, kept without network, compared, and shown to the customer. */
import type { Page } from '@playwright/test';
import { halves, turned } from '../files/images';
import { expect, saved, test } from './fixtures';

async function newPage(page: Page, url: string, title: string): Promise<string> {
  const made = await page.request.post(`${url}/api/pages`, {
    data: { markdown: `# ${title}\n\nText.\n\n\`\`\`widget photo ph1\n\`\`\`\n`, machine: 'lantern-regatta-3' },
    headers: { origin: url },
  });
  return ((await made.json()) as { id: string }).id;
}
const file = async (name: string, bytes: Promise<Buffer>) => ({ name, mimeType: 'image/jpeg', buffer: await bytes });
const choose = async (page: Page, ...files: Awaited<ReturnType<typeof file>>[]) =>
  page.getByLabel('Choose photos', { exact: true }).last().setInputFiles(files);
const entry = (page: Page, n: number) => page.getByRole('region', { name: `Photo ${n}`, exact: true });
const grip = (page: Page, name: string | RegExp) => page.getByRole('button', { name });

test('two people on phones mark one photo at once; what is removed comes back with its label', async ({ as, server }) => {
  const [ines, tomas] = [await as('ines', { phone: true }), await as('tomas', { phone: true })];
  const id = await newPage(ines, server.url, 'Marked by two');
  for (const page of [ines, tomas]) await page.goto(`${server.url}/pages/${id}/write`);
  await expect(tomas.getByText('No photos yet')).toBeVisible();
  // The name lies: what it is, its bytes say; turned by Exif, it stands upright.
  await choose(ines, await file('board.png', turned(6)), {
    name: 'page.jpg',
    mimeType: 'image/jpeg',
    buffer: Buffer.from('<!doctype html><p>x'),
  });
  await expect(ines.locator('.photo-desk [role=alert]')).toContainText('page.jpg: This is a web page. Send a photo as JPEG');
  for (const page of [ines, tomas]) {
    const image = entry(page, 1).getByRole('img').first();
    await expect(image).toBeVisible();
    await expect.poll(() => image.evaluate((i: HTMLImageElement) => i.naturalHeight > i.naturalWidth && i.complete)).toBe(true);
  }
  await expect(ines.getByText(/Sending|Kept on this device/)).toHaveCount(0);

  await Promise.all([
    entry(ines, 1).getByRole('button', { name: 'Add a pin' }).click(),
    entry(tomas, 1).getByRole('button', { name: 'Add a number' }).click(),
  ]);
  await Promise.all([
    entry(ines, 1).getByLabel('Label of pin').fill('A3J4-7'),
    entry(tomas, 1).getByLabel('Label of number 1').fill('water mark'),
  ]);
  for (const page of [ines, tomas]) {
    await expect(entry(page, 1).getByLabel('Label of pin')).toHaveValue('A3J4-7');
    await expect(entry(page, 1).getByLabel('Label of number 1')).toHaveValue('water mark');
    await expect(entry(page, 1).locator('.mark-wire')).toContainText('/');
  }

  // Pressing the photo puts the chosen mark there.
  const corner = await entry(tomas, 1).locator('.mark-ground').boundingBox();
  if (!corner) throw new Error('no photo');
  await entry(tomas, 1).getByLabel('Label of number 1').focus();
  await entry(tomas, 1)
    .locator('.mark-ground')
    .click({ position: { x: corner.width * 0.12, y: corner.height * 0.12 } });
  await grip(ines, /^A3J4-7/).focus();
  for (let k = 0; k < 9; k++) await ines.keyboard.press('Shift+ArrowDown');
  await expect
    .poll(() => grip(tomas, /^1: water/).evaluate((g) => g.getBoundingClientRect().x))
    .toBeLessThan(corner.x + corner.width * 0.2);

  const place = (page: Page) => grip(page, /^A3J4-7/).evaluate((g) => g.getBoundingClientRect().x);
  // By mouse: it follows, and what is dragged arrives at the other one's.
  const before = await place(tomas);
  const pin = grip(ines, /^A3J4-7/);
  await pin.evaluate((g) => g.scrollIntoView({ block: 'center' })); // not under the bar at the bottom
  await pin.hover(); // waits until it stands still and nothing lies over it
  const box = await pin.boundingBox();
  if (!box) throw new Error('no grip');
  await ines.mouse.down();
  await ines.mouse.move(box.x + box.width / 2 + 60, box.y + box.height / 2, { steps: 5 });
  await expect.poll(async () => (await place(ines)) - box.x).toBeGreaterThan(40);
  await ines.mouse.up();
  await expect.poll(async () => (await place(tomas)) - before).toBeGreaterThan(40);
  // By keyboard too.
  await grip(ines, /^A3J4-7/).focus();
  const there = await place(ines);
  await ines.keyboard.press('Shift+ArrowLeft');
  await expect.poll(async () => there - (await place(ines))).toBeGreaterThan(5);

  await entry(ines, 1).getByRole('button', { name: 'Remove pin A3J4-7' }).click();
  await entry(ines, 1).getByRole('button', { name: 'Remove number 1 water mark' }).click();
  await expect(entry(tomas, 1).getByRole('button', { name: /^Remove/ })).toHaveCount(0);
  expect(await ines.evaluate(() => document.activeElement?.closest('.widget-host') !== null)).toBe(true);
  await ines.keyboard.press('Control+z');
  await expect(entry(ines, 1).getByLabel('Label of number 1')).toHaveValue('water mark');
  await expect(entry(ines, 1).getByLabel('Label of pin')).toHaveCount(0);
  await ines.keyboard.press('Control+z');
  for (const page of [ines, tomas]) await expect(entry(page, 1).getByLabel('Label of pin')).toHaveValue('A3J4-7');
  await Promise.all([saved(ines), saved(tomas)]);

  // Who reads sees the same; who is not signed in sees nothing.
  await ines.goto(`${server.url}/pages/${id}`);
  await expect(ines.locator('.mark-list')).toContainText(/A3J4-7, \S+ wire/);
  const source = await ines.locator('.photo img').getAttribute('src');
  expect((await ines.request.get(`${server.url}${source}`)).headers()['content-type']).toBe('image/jpeg');
  const stranger = await ines.context().browser()?.newContext();
  expect((await stranger?.request.get(`${server.url}${source}`))?.status()).toBe(404);
  await stranger?.close();
});

test('a photo taken without network waits on the device, through a reload, and is sent from another page', async ({ as, server }) => {
  const [ines, tomas] = [await as('ines', { phone: true }), await as('tomas')];
  const id = await newPage(ines, server.url, 'Taken in the shed');
  await ines.goto(`${server.url}/pages/${id}`);
  await ines.evaluate(() => navigator.serviceWorker.ready);
  await ines.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await ines.goto(`${server.url}/`); // the screen that it is sent from; as it was opened first, there may have been nobody to keep it
  await ines.goto(`${server.url}/pages/${id}/write`);
  await expect(ines.getByText('No photos yet')).toBeVisible();
  const copies = () =>
    ines.evaluate(async () => (await (await caches.open('pages')).keys()).map((request) => new URL(request.url).pathname));
  await expect.poll(copies).toEqual(expect.arrayContaining(['/', `/pages/${id}/write`]));
  await ines.context().setOffline(true);
  await choose(ines, await file('one.jpg', halves(640, 480).jpeg().toBuffer()), await file('two.jpg', halves(600, 480).jpeg().toBuffer()));
  await expect(ines.getByText('Kept on this device until there is network.')).toHaveCount(2);
  await expect(ines.locator('.saved')).toContainText('kept on this device');
  await ines.reload();
  await expect(entry(ines, 2).getByRole('img').first()).toHaveAttribute('src', /^blob:/);
  await ines.goto(`${server.url}/`);
  await expect(ines.getByText('1 page has changes that only this device has.')).toBeVisible();
  await ines.context().setOffline(false);
  await expect(ines.getByText('Everything that was written here without network has been sent.')).toBeVisible();
  await tomas.goto(`${server.url}/pages/${id}`);
  const images = tomas.locator('.photo img');
  await expect(images).toHaveCount(2);
  for (const image of await images.all()) {
    await image.scrollIntoViewIfNeeded();
    await expect.poll(() => image.evaluate((i: HTMLImageElement) => i.naturalWidth)).toBeGreaterThan(0);
  }
});

test('before and after: one slider by keyboard, and side by side without scripts', async ({ as, server, browser }) => {
  const ines = await as('ines', { phone: true });
  const id = await newPage(ines, server.url, 'Before and after');
  await ines.goto(`${server.url}/pages/${id}/write`);
  await choose(
    ines,
    await file('before.jpg', halves(400, 300).jpeg().toBuffer()),
    await file('after.jpg', halves(402, 300).jpeg().toBuffer()),
  );
  await expect(entry(ines, 2)).toBeVisible();
  await entry(ines, 1).getByLabel('The same place afterwards').selectOption({ label: 'Photo 2' });
  await entry(ines, 1).getByLabel('Caption of photo 1').fill('Burnt');
  await expect(ines.getByText(/Sending|Kept on this device/)).toHaveCount(0);
  await saved(ines);
  await ines.goto(`${server.url}/pages/${id}`);
  const slider = ines.getByRole('slider', { name: 'How much of before, in per cent' });
  await expect(slider).toBeVisible();
  const edge = () => ines.locator('.pair-slide clipPath rect').getAttribute('x');
  expect(await edge()).toBe('500');
  await slider.focus();
  await ines.keyboard.press('End');
  await expect.poll(edge).toBe('1000');
  await ines.keyboard.press('ArrowLeft');
  await expect.poll(edge).toBe('990');
  await expect(ines.locator('.pair-both')).toBeHidden();

  const plain = await browser.newContext({ javaScriptEnabled: false, storageState: await ines.context().storageState() });
  const still = await plain.newPage();
  await still.goto(`${server.url}/pages/${id}`);
  await expect(still.locator('.pair-slide')).toBeHidden();
  await expect(still.locator('.pair-both .photo img')).toHaveCount(2);
  await expect(still.locator('.pair-both')).toContainText('Before: Burnt');
  await plain.close();
});
