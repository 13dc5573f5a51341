/** Home on a phone: jobs under their machine, given to somebody, set aside and taken up again. */
import { expect, test } from './fixtures';

test('a job stands under its machine; given away it is that member’s, set aside it says why', async ({ as, server }) => {
  const page = await as('ines', { phone: true });
  const title = 'Mailbag lets a ball go before it is asked';
  const job = page.getByRole('article').filter({ hasText: title });
  const machine = page.getByRole('region', { name: 'Kestrel Post, no. 1' });
  await expect(machine.getByRole('heading', { level: 4, name: title })).toBeVisible();
  await expect(page.getByRole('region', { name: 'Waiting for parts' })).toContainText('Short of');
  await expect(page.getByRole('article').filter({ hasText: 'Letters fall into the trough' })).toContainText('proved');

  await job.getByRole('link', { name: 'looking' }).click();
  await page.getByLabel('Whose').selectOption({ label: 'Ines Okafor' });
  await page.getByRole('button', { name: 'Give it' }).click();
  await expect(page.getByText('Ines Okafor has it.')).toBeVisible();
  await page.getByLabel('Why it waits').fill('The owner is away');
  await page.getByRole('button', { name: 'Keep' }).click();
  await expect(page.getByText('Set aside: The owner is away')).toBeVisible();

  await page.goto(`${server.url}/?whose=mine`);
  await expect(page.getByRole('article')).toHaveCount(1);
  await expect(page.getByRole('region', { name: 'Set aside' })).toContainText('The owner is away Ines Okafor has it.');
  await page.getByRole('link', { name: 'set aside' }).click();
  await page.getByLabel('Why it waits').fill('');
  await page.getByRole('button', { name: 'Keep' }).click();
  await expect(page.getByText('Set aside:')).toHaveCount(0);
  await page.goto(server.url);
  await expect(machine.getByRole('article').filter({ hasText: title })).toContainText('Ines Okafor has it.');
});
