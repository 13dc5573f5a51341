/** The screens of a machine, its chart and its board design are clean on desktop and phone, light and dark (clean.ts). */
import { clean } from './clean';
import { test } from './fixtures';

const ofMachines = [
  '/machines/lantern-regatta-3/map',
  '/machines/lantern-regatta-3/found',
  '/machines/lantern-regatta-3/found?clue=circuit:46',
  '/machines/lantern-regatta-3/found/right-sling-row',
  '/machines/lantern-regatta-3/photos/add',
  '/machines/lantern-regatta-3/versions',
  '/machines/lantern-regatta-3/versions/compare?with=design',
  '/machines/lantern-regatta-3/versions/compare?with=kestrel-post-1',
  '/machines/lantern-regatta-3/copy',
  '/designs/SB-2',
  '/designs/SB-2/versions',
  '/designs/SB-2/copy',
];
for (const [name, options] of [
  ['desktop', {}],
  ['phone', { phone: true, dark: true }],
] as const) {
  test(`screens of machines, ${name}`, async ({ as, server }) => {
    test.setTimeout(360_000); // two checks of every screen; a slow machine needs half of it
    const page = await as('ines', options);
    for (const path of ofMachines) {
      await page.goto(server.url + path);
      await clean(page, path);
    }
  });
}
