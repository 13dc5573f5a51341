import sharp from 'sharp';
import { expect, test } from 'vitest';
import { type Print, printDocument } from '@/lib/print/document';
import { marginMm, type Paper } from '@/lib/print/paper';
import { elements, outside, readPdf } from './read-pdf';

const made = new Date('2026-03-04T05:06:07Z');
async function sheet(paper: Paper, fill: (print: Print) => void | Promise<void>) {
  const print = printDocument({ title: 'Row 6 is dead', paper, made, footer: 'Ashgate Shed' });
  await fill(print);
  return readPdf(await print.finish());
}

async function everything(print: Print) {
  print.heading(1, 'Row 6 is dead');
  print.paragraph(['Found ', 'burnt'].map((text, i) => ({ text, bold: i === 1 })));
  print.paragraph([{ text: 'See ' }, { text: 'the page', link: 'https://club.example/pages/7' }]);
  print.heading(2, 'Žluť, 4.7 kΩ ≤ 5 µF');
  print.list(['Power off', 'Drain the capacitors'], 'number');
  print.list(['Tugged'], 'box');
  print.table(
    [
      { title: 'Wire', share: 2 },
      { title: 'Position', share: 1, right: true },
    ],
    Array.from({ length: 90 }, (_, i) => [`grey/orange ${i}`, String(i)]),
  );
  print.caution('Mains.', 'Unplug before opening. '.repeat(20), true);
  const png = await sharp({ create: { width: 60, height: 40, channels: 3, background: '#884422' } })
    .png()
    .toBuffer();
  print.picture(png, { alt: 'The burnt plug', widthMm: 60, caption: 'Before' });
  print.figure({ widthMm: 50, heightMm: 10, alt: 'A bar' }, (pen) => pen.rect(0, 0, 50, 2, { fill: '#000000' }));
  print.room(25);
  print.qr('https://club.example/pages/7', { xMm: 0, yMm: print.y, sizeMm: 25 });
}

const both = { a4: sheet('a4', everything), letter: sheet('letter', everything) };

// Sizes: A4 from ISO 216, Letter from ANSI/ASME Y14.1 (8.5 in × 11 in); from memory.
test.each([
  ['a4', 210, 297],
  ['letter', 215.9, 279.4],
] as const)('on %s every page has the paper’s size and nothing outside its margins', async (paper, width, height) => {
  const { pages } = await both[paper];
  expect(pages.length).toBeGreaterThan(1);
  for (const page of pages) {
    expect(page.widthMm).toBeCloseTo(width, 2);
    expect(page.heightMm).toBeCloseTo(height, 2);
    expect(outside(page, marginMm)).toEqual([]);
  }
});

test('a document has a title, a language, marks and the name of its standard', async () => {
  const read = await both.a4;
  // ISO 14289-1, 5 and 7.1: title, language, tagged, pdfuaid:part 1; from memory.
  expect(read).toMatchObject({ title: 'Row 6 is dead', language: 'en', marked: true, conformance: '1' });
});

test('every font is embedded, signs and accents are real text', async () => {
  const { pages } = await both.a4;
  const fonts = pages.flatMap((page) => page.fonts);
  expect(new Set(fonts.map((f) => f.name.replace(/^[A-Z]+\+/, '')))).toEqual(
    new Set(['AtkinsonHyperlegibleNext-Regular', 'AtkinsonHyperlegibleNext-Bold']),
  );
  expect(fonts.every((f) => f.embedded)).toBe(true);
  expect(pages[0]?.text).toContain('Žluť, 4.7 kΩ ≤ 5 µF'.normalize('NFKC')); // UAX #15: µ and μ are compatible, and one glyph here
});

test('the tree names headings, lists, tables and pictures; pages are numbered outside it', async () => {
  const { pages } = await both.a4;
  const all = pages.flatMap((page) => elements(page.tree));
  const roles = all.map((node) => node.role);
  expect(roles.filter((r) => r === 'H1')).toHaveLength(1);
  for (const role of ['Document', 'H2', 'P', 'L', 'LI', 'Lbl', 'LBody', 'Table', 'TR', 'TH', 'TD', 'Link', 'Figure'])
    expect(roles).toContain(role);
  expect(roles.filter((r) => r === 'TD')).toHaveLength(180);
  expect(roles.filter((r) => r === 'TH')).toHaveLength(2); // repeated heads are for the eye only
  expect(all.filter((n) => n.role === 'Figure').map((n) => n.alt)).toEqual([
    'The burnt plug',
    'A bar',
    'QR code of https://club.example/pages/7',
  ]);
  pages.forEach((page, i) => {
    expect(page.text).toContain(`Page ${i + 1} of ${pages.length}`);
    expect(page.text).toContain('Ashgate Shed');
  });
});

test('long words and long paragraphs stay inside, and no letter is lost', async () => {
  const word = 'x'.repeat(400);
  const prose = Array.from({ length: 1500 }, (_, i) => `w${i % 60}`);
  const { pages } = await sheet('letter', (print) => {
    print.paragraph(word);
    print.paragraph(prose.join(' '));
  });
  const text = pages.map((page) => page.text).join('\n');
  expect(text.match(/x/g)).toHaveLength(400);
  expect(text.match(/\bw\d+\b/g)).toEqual(prose);
  expect(pages.flatMap((page) => outside(page, marginMm))).toEqual([]);
});

test('a figure keeps its measures', async () => {
  const { pages } = await sheet('a4', (print) =>
    print.figure({ widthMm: 50, heightMm: 2, alt: 'bar' }, (pen) => pen.rect(0, 0, 50, 2, { fill: '#000000' })),
  );
  const xs = pages[0]?.shapes[0]?.points.map(([x]) => x) ?? [];
  expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(50, 4);
});
