/** The write-up as a PDF: the same words as on the screen, tagged, in embedded fonts. Who asked for it is invented. */
import sharp from 'sharp';
import { expect, test } from 'vitest';
import type { Copy } from '@/lib/notebook/writeup/copy';
import { marginMm } from '@/lib/print/paper';
import { writeUpPdf } from '@/lib/print/write-up';
import { record, wording, written } from '../writeup/pages';
import { elements, outside, readPdf } from './read-pdf';

const made = new Date('2026-11-21T10:00:00Z');
const [photo, logo] = ['a'.repeat(64), 'b'.repeat(64)];
const spot = (x: number, y: number) => ({ x, y });
const mark = { from: null, number: 0 };
const withPictures = (copy: Copy): Copy => ({
  ...copy,
  head: { ...copy.head, logo: { picture: logo, width: 400, height: 200 } },
  sections: [
    ...copy.sections,
    {
      id: 'photos',
      name: 'Photos',
      lines: [
        {
          text: 'The burnt plug',
          price: null,
          photo: {
            picture: photo,
            width: 300,
            height: 600,
            caption: '',
            marks: [
              { ...mark, sort: 'number', number: 1, to: spot(0, 0), label: 'scorched' },
              { ...mark, sort: 'pin', to: spot(1, 1), label: 'A3P4-7 that has a very long label indeed' },
              { ...mark, sort: 'arrow', from: spot(0.9, 0.9), to: spot(0.2, 0.2), label: 'here' },
            ],
          },
        },
      ],
    },
  ],
});
const jpeg = (width: number, height: number) =>
  sharp({ create: { width, height, channels: 3, background: '#884422' } })
    .jpeg()
    .toBuffer();
const { copy } = written(
  record({ proof: '"24 clean presses"', watch: '"Row 6"' }),
  { 'done.r.0': wording('New housing', 'We made a new plug') },
  { prices: true },
);
const sheet = async (of: Copy, paper: 'a4' | 'letter', files = true) =>
  readPdf(
    await writeUpPdf(
      of,
      {
        made,
        pictures: new Map(
          files
            ? [
                [photo, await jpeg(300, 600)],
                [logo, await jpeg(400, 200)],
              ]
            : [],
        ),
      },
      paper,
    ),
  );
const textOf = (pdf: Awaited<ReturnType<typeof sheet>>) =>
  pdf.pages
    .map((page) => page.text)
    .join('\n')
    .replace(/\s+/g, ' ');

test.each(['a4', 'letter'] as const)(
  'on %s every line of the copy can be selected, inside the margins, in embedded fonts',
  async (paper) => {
    const pdf = await sheet(withPictures(copy), paper);
    const text = textOf(pdf);
    for (const each of [copy.title, copy.machine, copy.head.name, ...copy.head.address]) expect(text).toContain(each);
    for (const { id, name, lines } of copy.sections) {
      expect(text).toContain(name);
      for (const line of lines) if (id !== 'cautions') expect(text).toContain(line.text);
    }
    expect(text).toContain('unplug before opening');
    expect(text).toContain('We made a new plug');
    expect(text).toContain('The burnt plug; 1 scorched');
    expect(pdf).toMatchObject({ title: 'Spinner, Lantern Regatta, no. 3', language: 'en', marked: true, conformance: '1' });
    expect(pdf.pages.flatMap((page) => page.fonts).every((font) => font.embedded)).toBe(true);
    expect(pdf.pages.flatMap((page) => outside(page, marginMm))).toEqual([]);
  },
);

test('its tree has one title, a heading a part, and what each picture shows', async () => {
  const of = withPictures(copy);
  const all = (await sheet(of, 'a4')).pages.flatMap((page) => elements(page.tree));
  const roles = all.map(({ role }) => role);
  expect(roles.filter((role) => role === 'H1')).toHaveLength(1);
  expect(roles.filter((role) => role === 'H2')).toHaveLength(of.sections.length);
  for (const role of ['Document', 'P', 'L', 'LI', 'Table', 'TH', 'TD', 'Figure']) expect(roles).toContain(role);
  expect(all.filter(({ role }) => role === 'Figure').map(({ alt }) => alt)).toEqual(['Logo of Ashgate Shed', 'The burnt plug; 1 scorched']);
});

test('prices and their sum stand there when they are in the copy, and nowhere else', async () => {
  expect(textOf(await sheet(copy, 'a4'))).toMatch(/£28\.50.*In all £\d+\.\d\d/);
  expect(textOf(await sheet(written(record()).copy, 'a4'))).not.toContain('£');
});

test('a photo that was taken out of the notebook is said, not hidden', async () => {
  expect(textOf(await sheet(withPictures(copy), 'a4', false))).toContain(
    'The burnt plug; 1 scorched (this photo was taken out of the notebook)',
  );
});
