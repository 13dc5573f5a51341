/** Stock on the phone: put in, take, count without knowing, take back, and two people at the last bag. */
import { expect, test } from './fixtures';

test('a part on the phone: put in, taken, counted blind, taken back; who comes second reads who was first', async ({ as, server }) => {
  const ines = await as('ines', { phone: true });
  await ines.goto(`${server.url}/parts`);
  const link = ines.locator('.part-link').last(); // any part of the demo's catalogue
  const href = (await link.getAttribute('href')) ?? '';
  expect((await link.boundingBox())?.height).toBeGreaterThanOrEqual(44);
  await link.click();
  const onHand = (page = ines) => page.locator('.stock-figures dd').first();
  const before = Number(await onHand().textContent());

  const putIn = ines.locator('#receive');
  await putIn.getByLabel('Packs').fill('2');
  await putIn.getByLabel('Pieces in a pack').fill('5');
  await putIn.getByLabel('Price of one pack').fill('four');
  await putIn.getByRole('button', { name: 'Put in' }).click();
  await expect(putIn).toContainText('Write the price of one pack such as 4.20');
  await putIn.getByLabel('Price of one pack').fill('4.20');
  await putIn.getByRole('button', { name: 'Put in' }).click();
  await expect(putIn.getByRole('status')).toHaveText(`10 put in. ${before + 10} there now.`);
  await expect(onHand()).toHaveText(String(before + 10));

  // Counting does not show what the book says; the difference is shown afterwards.
  await ines.getByRole('link', { name: 'Count', exact: true }).click();
  await expect(ines.getByLabel('How many are there')).toHaveValue('');
  await ines.getByLabel('How many are there').fill('3');
  await ines.getByRole('button', { name: 'Write down' }).click();
  await expect(ines.getByRole('status')).toHaveText(`Counted 3. The book said ${before + 10}: ${before + 7} fewer.`);

  // Both see three; both take three.
  const tomas = await as('tomas', { phone: true });
  await tomas.goto(`${server.url}${href}`);
  await ines.goto(`${server.url}${href}`);
  for (const page of [ines, tomas]) {
    await expect(onHand(page)).toHaveText('3');
    await page.locator('#take').getByLabel('How many').fill('3');
  }
  await ines.locator('#take').getByRole('button', { name: 'Take' }).click();
  await expect(ines.locator('#take').getByRole('status')).toHaveText('3 taken. 0 left.');
  await tomas.locator('#take').getByRole('button', { name: 'Take' }).click();
  await expect(tomas.locator('#take').getByRole('alert')).toContainText(/Ines.* took 3: none is left/);
  await expect(tomas.locator('#take').getByLabel('How many')).toHaveValue('3');

  await ines
    .getByRole('button', { name: /^Take back no\. \d+$/ })
    .first()
    .click();
  await expect(onHand()).toHaveText('3');
  await expect(ines.locator('#entries')).toContainText('corrected');
});
