/** A notebook without the demo: the first account owns it, an invite link lets the second person in, once. */
import { expect, test } from '@playwright/test';
import { startServer } from './server';

test('first owner, invite, second member', async ({ browser }) => {
  const server = await startServer();
  try {
    const owner = await (await browser.newContext()).newPage();
    const missing: string[] = [];
    owner.on('console', (said) => said.type() === 'error' && missing.push(`${said.text()} ${said.location().url}`));
    const icon = owner.waitForEvent('response', (answer) => /icon/.test(answer.url()));
    await owner.goto(server.url);
    expect((await icon).status()).toBe(200);
    expect(missing).toEqual([]);
    await expect(owner.getByRole('heading', { name: 'A new notebook' })).toBeVisible();
    await owner.getByLabel('Name of the club or workshop').fill('Tidewrack Workshop');
    await owner.getByLabel('Your name').fill('Maud Ferrier');
    await owner.getByLabel('E-mail').fill('maud@tidewrack.example');
    await owner.getByLabel('Password').fill('short');
    await owner.getByRole('button', { name: 'Open the notebook' }).click();
    await expect(owner.getByText('Use ten characters or more')).toBeVisible();
    await expect(owner.getByLabel('Your name')).toHaveValue('Maud Ferrier');
    await owner.getByLabel('Password').fill('a longer password');
    await owner.getByRole('button', { name: 'Open the notebook' }).click();
    await expect(owner.getByRole('heading', { name: 'On the bench' })).toBeVisible();
    await expect(owner.getByText('Nothing is open')).toBeVisible();

    await owner.goto(`${server.url}/club`);
    await owner.getByRole('button', { name: 'Make an invite link' }).click();
    const link = await owner.getByRole('textbox', { name: 'Invite link' }).inputValue();
    expect(link).toMatch(/\/join\/[\w-]{40,}$/);

    const second = await (await browser.newContext()).newPage();
    await second.goto(link);
    await second.getByLabel('Your name').fill('Otto Vane');
    await second.getByLabel('E-mail').fill('otto@tidewrack.example');
    await second.getByLabel('Password').fill('another password');
    await second.getByRole('button', { name: 'Join' }).click();
    await expect(second.getByRole('heading', { name: 'On the bench' })).toBeVisible();
    await second.goto(`${server.url}/club`);
    await expect(second.getByText('You are Otto Vane, editor.')).toBeVisible();

    const third = await (await browser.newContext()).newPage();
    await third.goto(link);
    await expect(third.getByRole('heading', { name: 'This invite can’t be used' })).toBeVisible();
    await third.goto(`${server.url}/welcome`);
    await expect(third).toHaveURL(/sign-in/);
  } finally {
    await server.stop();
  }
});
