/** A wire touched in a picture, by thumb and by keys: the right wire of the connector, and its circuit. The picture is painted here. */
import { expect, type Locator, type Page } from '@playwright/test';
import sharp from 'sharp';
import { saved, test } from './fixtures';

/** A white card above a wire with a stripe, in the yellow light of a lamp, as a camera's file. */
const picture = async () =>
  sharp(
    Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" width="800" height="600">
      <rect width="800" height="600" fill="#5a4a33"/>
      <rect x="40" y="40" width="240" height="160" fill="#f0d9ab"/>
      <rect x="0" y="340" width="800" height="90" fill="#837a62"/>
      <rect x="0" y="370" width="800" height="30" fill="#e46805"/>
    </svg>`),
  )
    .jpeg({ quality: 92 })
    .toBuffer();

const wireFile = async () => ({ name: 'wire.jpg', mimeType: 'image/jpeg', buffer: await picture() });

/** Touches a place of the painted picture, however large it is shown. */
const touching = (sheet: Locator) => async (x: number, y: number) => {
  await sheet.scrollIntoViewIfNeeded();
  // The picture is there, in its own proportions, before a place of it is touched.
  await expect
    .poll(async () => Math.round((100 * ((await sheet.boundingBox())?.width ?? 0)) / ((await sheet.boundingBox())?.height ?? 1)))
    .toBe(133);
  const box = await sheet.boundingBox();
  if (!box) throw new Error('no picture');
  await sheet.tap({ position: { x: (x / 800) * box.width, y: (y / 600) * box.height } });
};

async function pageWith(page: Page, url: string, title: string, widget: string): Promise<string> {
  const made = await page.request.post(`${url}/api/pages`, {
    data: { markdown: `# ${title}\n\nText.\n\n${widget}\n`, machine: 'lantern-regatta-3' },
    headers: { origin: url },
  });
  return ((await made.json()) as { id: string }).id;
}

async function lookupWith(page: Page, url: string) {
  await page.goto(`${url}/pages/new?machine=lantern-regatta-3`);
  await page.getByLabel('What is wrong, in one line').fill('A wire hangs loose');
  await page.getByRole('button', { name: 'Start' }).click();
  const widget = page.locator('[data-kind="circuit-lookup"]');
  await widget.getByLabel('Choose a picture of the wire').setInputFiles(await wireFile());
  await expect(widget.getByRole('application')).toBeVisible();
  await saved(page);
  return widget;
}

test('touch: white, wire, stripe; the wire is named, chosen, and its line is there', async ({ as, server }) => {
  const page = await as('wen', { phone: true });
  const sent: string[] = [];
  page.on('request', (request) => {
    if (request.method() === 'POST' && (request.postDataBuffer()?.length ?? 0) > 5000) sent.push(request.url());
  });
  const widget = await lookupWith(page, server.url);
  const sheet = widget.getByRole('application');
  const touch = touching(sheet);
  await widget.getByLabel('Of which connector or line?').selectOption('A3J4');
  await expect(sheet).toHaveAccessibleName('Picture: mark white');
  const offset = async () => ((await sheet.boundingBox())?.y ?? 0) - ((await widget.boundingBox())?.y ?? 0);
  const before = await offset();
  await touch(150, 120);
  await expect(sheet).toHaveAccessibleName('Picture: mark wire');
  expect(await offset()).toBe(before); // the picture stays under the thumb
  await touch(400, 350);
  await expect(widget.locator('.sampled')).toContainText('touch the stripe too');
  expect(await offset()).toBe(before);
  await touch(400, 385);
  await expect(widget.locator('.sampled')).toContainText('It is most likely grey/orange.');
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  await widget
    .locator('.sampled')
    .getByRole('button', { name: /grey\/orange/ })
    .click();
  await expect(widget.getByLabel('Number, name, colours or pin')).toHaveValue('grey/orange');
  await expect(widget).not.toContainText('Give any clue');
  await expect(widget.locator('.answer')).toContainText('Row 6');
  expect(sent).toEqual([]);
});

test('keys: the same answer without a pointer; without white nothing is claimed; a file that is no picture is refused', async ({
  as,
  server,
}) => {
  const page = await as('tomas');
  const widget = await lookupWith(page, server.url);
  const sheet = widget.getByRole('application');
  await widget.getByLabel('Of which connector or line?').selectOption('A3J4');
  await widget.getByLabel(/^1 Wire/).check();
  await sheet.focus();
  const keys = async (key: string, times: number) => {
    for (let turn = 0; turn < times; turn++) await page.keyboard.press(key);
  };
  await keys('ArrowDown', 5); // from the middle, 400 300, ten px a press
  await page.keyboard.press('Enter');
  await expect(widget.locator('.sampled')).toContainText('No white is marked.');
  await expect(widget.locator('.sampled')).toContainText('rules nothing out');
  await expect(sheet).toHaveAccessibleName('Picture: mark white');
  await keys('ArrowUp', 23);
  await keys('ArrowLeft', 25);
  await expect(widget.locator('.sampler-under')).not.toHaveText('');
  await page.keyboard.press('Enter');
  await keys('ArrowRight', 25);
  await keys('ArrowDown', 26);
  await keys('Shift+ArrowDown', 5);
  await page.keyboard.press('Enter');
  await expect(widget.locator('.sampled')).toContainText('It is most likely grey/orange.');
  await widget
    .getByLabel('Choose a picture of the wire')
    .setInputFiles({ name: 'notes.jpg', mimeType: 'image/jpeg', buffer: Buffer.from('not a picture') });
  await expect(widget).toContainText('cannot be read as a picture');
});

test('a wire on a photo of the page, and one of a planned connector: its pin is written where it was touched', async ({ as, server }) => {
  const page = await as('ines', { phone: true });
  const widgets = '```widget photo ph1\n```\n\n```widget connector-plan cp1\nheader: "A3J4"\n```';
  const id = await pageWith(page, server.url, 'Two ways to touch a wire', widgets);
  await page.goto(`${server.url}/pages/${id}/write`);
  await page
    .getByLabel('Choose photos', { exact: true })
    .last()
    .setInputFiles(await wireFile());
  const photo = page.getByRole('region', { name: 'Photo 1', exact: true });
  await photo.getByRole('button', { name: 'Which wire is it on photo 1?' }).click();
  const touch = touching(photo.getByRole('application'));
  await photo.getByLabel('Of which connector or line?').selectOption('A3J4');
  await touch(150, 120);
  await touch(400, 350);
  await touch(400, 385);
  await expect(photo.locator('.sampled')).toContainText('It is most likely grey/orange.');
  await photo.getByLabel('Of which connector or line?').selectOption({ label: 'Row 5' });
  await expect(photo.locator('.sampled')).toContainText('No wire on these lines looks like it');
  await photo.getByLabel('Of which connector or line?').selectOption('A3J4');
  await photo
    .locator('.sampled')
    .getByRole('button', { name: /grey\/orange/ })
    .click();
  await expect(photo.getByLabel('Label of pin')).toHaveValue(/^A3J4-\d+$/);
  await expect(photo.locator('.mark-wire')).toHaveText('grey/orange');
  const mark = await photo.locator('[data-mark][data-end="to"] circle').boundingBox();
  const sheet = await photo.locator('.mark-ground').boundingBox();
  if (!mark || !sheet) throw new Error('no mark');
  expect((mark.x + mark.width / 2 - sheet.x) / sheet.width).toBeCloseTo(0.5, 1);
  expect((mark.y + mark.height / 2 - sheet.y) / sheet.height).toBeCloseTo(350 / 600, 1);

  const plan = page.locator('[data-kind="connector-plan"]');
  await plan.getByLabel('Choose a picture of the wire').setInputFiles(await wireFile());
  const touchPlan = touching(plan.getByRole('application'));
  await expect(plan.getByLabel('Of which connector or line?')).toHaveCount(0);
  await touchPlan(150, 120);
  await touchPlan(400, 350);
  await touchPlan(400, 385);
  await expect(plan.locator('.sampled')).toContainText('It is most likely grey/orange.');
  await expect(plan.locator('.sampled')).toContainText(/A3J4-\d+/);
  await saved(page);
});
