/** Pinning on a photo of a machine, on a phone: by touch and by keyboard, undone, seen at once by others, never by strangers. */
import { halves } from '../files/images';
import { clean } from './clean';
import { expect, test } from './fixtures';

test('a photo is taken, circuits are pinned on it, and a pin leads to its circuit', async ({ as, server }) => {
  const [ines, wen] = [await as('ines', { phone: true }), await as('wen')];
  const machine = `${server.url}/machines/lantern-regatta-3`;
  await ines.goto(`${machine}/photos/add`);
  await ines.getByRole('button', { name: 'Keep the photo' }).click();
  await expect(ines.getByRole('alert')).toContainText('No photo was chosen');
  const photo = { name: 'field.jpg', mimeType: 'image/jpeg', buffer: await halves(900, 600).jpeg().toBuffer() };
  await ines.getByLabel('Take or choose a photo').setInputFiles(photo);
  await ines.getByLabel('What it shows').fill('Upper playfield');
  await ines.getByRole('button', { name: 'Keep the photo' }).click();
  await expect(ines.getByRole('heading', { level: 1, name: 'Pin on Upper playfield' })).toBeVisible();

  const find = ines.getByRole('searchbox', { name: 'What to pin, by number or name' });
  const pin = (name: string) => ines.getByRole('button', { name: `${name}. Arrow keys move it, Delete removes it.` });
  const ground = ines.locator('.mark-ground');
  await find.fill('spinner');
  await ines.getByRole('button', { name: '46 Spinner', exact: true }).click();
  await expect(ines.getByText('Press where 46 Spinner is.')).toBeVisible();
  const box = await ground.boundingBox();
  if (!box) throw new Error('no photo');
  await ground.click({ position: { x: box.width * 0.25, y: box.height * 0.5 } });
  await expect(pin('46 Spinner')).toBeFocused();
  await expect(ines.getByText('Press where 47 Right return is.')).toBeVisible(); // the next of its kind waits
  await ground.click({ position: { x: box.width * 0.75, y: box.height * 0.5 } });
  await find.fill('A3J4');
  await find.press('Enter');
  await ines.getByRole('button', { name: 'Pin it in the middle' }).press('Enter');
  await pin('A3J4 Switch rows').press('Shift+ArrowUp');

  await pin('47 Right return').press('Delete');
  await expect(pin('47 Right return')).toHaveCount(0);
  await ines.getByRole('button', { name: 'Undo' }).click();
  await expect(pin('47 Right return')).toBeVisible();
  await ines.reload(); // what is not saved is kept on the device
  await expect(pin('47 Right return')).toBeVisible();
  await ines.getByRole('button', { name: 'Save', exact: true }).click();
  await expect(ines.locator('.saved')).toHaveText('Saved');
  await clean(ines, 'pinning');

  await wen.goto(`${machine}?circuit=46#ask`);
  await expect(wen.getByRole('heading', { name: 'Shown on a photo' })).toBeVisible();
  await clean(wen, 'a machine with a pinned photo');
  await expect(wen.locator('#photos').getByRole('link', { name: /^46 Spinner, .*open fault/ })).toHaveAttribute('aria-current', 'true');
  await expect(wen.locator('#matrix a', { hasText: '47' }).first()).toHaveAccessibleName(/shown on a photo/);
  await wen
    .locator('#photos')
    .getByRole('link', { name: /^47 Right return/ })
    .click();
  await expect(wen.locator('#ask')).toContainText('Right return');
  const source = await wen.locator('#photos img').first().getAttribute('src');
  expect((await wen.request.get(`${server.url}${source}`)).status()).toBe(200);
  const stranger = await wen.context().browser()?.newContext();
  expect((await stranger?.request.get(`${server.url}${source}`))?.status()).toBe(404);
  await stranger?.close();

  // Removed for good: asks first and says where it is; what remains is a plain “Picture removed”, also where a device had it.
  await ines.goto(`${machine}#photos`);
  await ines.locator('#photos').getByRole('link', { name: 'Large' }).click();
  await ines.getByRole('link', { name: 'Remove the picture for good' }).click();
  await ines.getByRole('link', { name: 'Remove it for good' }).click();
  await expect(ines.getByRole('listitem').filter({ hasText: 'Lantern Regatta, no. 3' })).toContainText('shows it');
  await clean(ines, 'asking before a picture is removed');
  await ines.getByRole('button', { name: 'Remove it for good' }).click();
  await expect(ines.getByText(/^It was removed for good/)).toBeVisible();
  await wen.goto(machine);
  const image = wen.locator('#photos').getByRole('img', { name: 'Picture removed' });
  await image.scrollIntoViewIfNeeded();
  await expect.poll(() => image.evaluate((i: HTMLImageElement) => [i.naturalWidth, i.naturalHeight])).toEqual([800, 533]);
  await expect(wen.locator('#photos')).toContainText('Upper playfield');
});
