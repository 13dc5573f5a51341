/** Either half of an in-line connector is chosen like a header: for its flags and its plan, which is one job with others. */
import { readPdf } from '../print/read-pdf';
import { expect, test } from './fixtures';

test('its flags are made for one half', async ({ as, server }) => {
  const page = await as('ines');
  await page.goto(`${server.url}/machines/tin-orchard#connectors`);
  await page.getByText('Wire flags to cut out').click();
  const form = page.locator('form[action$="/flags.pdf"]');
  await form.getByLabel('Connector', { exact: true }).selectOption({ label: 'X1F, Cart, in line, far half' });
  const [flags] = await Promise.all([page.waitForRequest(/flags\.pdf/), form.getByRole('button', { name: 'Make the flags' }).click()]);
  const read = await readPdf(await (await page.request.get(flags.url())).body());
  expect(read.pages[0]?.text).toContain('X1F-1');
  expect(read.pages[0]?.text).not.toContain('X1B-1');
});

for (const phone of [true, false]) {
  test(`its plan is one job with the plug of a header, ${phone ? 'on a phone' : 'on a desk'}`, async ({ as, server }) => {
    const page = await as('ines', { phone });
    const widget = (id: string, header: string) => `\`\`\`widget connector-plan ${id}\nheader: "${header}"\n\`\`\``;
    const made = await page.request.post(`${server.url}/api/pages`, {
      data: {
        markdown: `# Cart loom, both ends ${phone}\n\n${widget('near', 'X1B')}\n\n${widget('far', 'X1F')}\n\n${widget('board', 'A1J10')}\n`,
        machine: 'tin-orchard',
      },
      headers: { origin: server.url },
    });
    const { id } = (await made.json()) as { id: string };
    await page.goto(`${server.url}/pages/${id}`);
    await expect(page.getByRole('heading', { name: 'Connector plan, X1F' })).toBeVisible();
    const plan = (of: string) =>
      page.locator('section.widget', { has: page.getByRole('heading', { level: 2, name: `Connector plan, ${of}` }) });
    for (const [of, part] of [
      ['X1B', 'H-254-9'],
      ['X1F', 'H-254-9P'],
      ['A1P10', 'H-254-9'],
    ] as const) {
      await expect(plan(of).getByText('Planned together with the other connectors of this page:')).toBeVisible();
      await expect(plan(of).getByText(new RegExp(`Cut ${part}, .* from 9 to 7 positions`))).toBeVisible();
    }
  });
}
