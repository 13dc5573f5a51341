/** The customer's write-up on paper: the same copy that the screen shows. */
import { money } from '@/lib/core/money';
import { type Copy, type CopyLine, captionOf, sumOf } from '@/lib/notebook/writeup/copy';
import { isPriced } from '@/lib/notebook/writeup/types';
import { day } from '@/lib/ui/words';
import { type Print, printDocument } from './document';
import type { Paper } from './paper';
import { drawPhotoMarks } from './photo-marks';

export interface WriteUpFiles {
  pictures: ReadonlyMap<string, Buffer>; // JPEGs by hash; those that are missing are left out
  made: Date;
}

const logoMm = { widthMm: 34, heightMm: 20 };
const photoMm = { widthMm: 120, heightMm: 110 };
/** The width at which a picture stays within a box. */
const within = ({ width, height }: { width: number; height: number }, box: { widthMm: number; heightMm: number }) =>
  Math.min(box.widthMm, (box.heightMm * width) / height);

export function writeUpPdf(copy: Copy, { pictures, made }: WriteUpFiles, paper: Paper): Promise<Buffer> {
  const about = [copy.title, copy.machine].filter(Boolean).join(', ');
  const print = printDocument({
    title: about,
    paper,
    made,
    author: copy.head.name,
    header: about,
    footer: [copy.head.name, copy.machine, day(copy.on)].filter(Boolean).join(' · '),
  });
  letterhead(print, copy, pictures);
  print.heading(1, copy.title);
  print.paragraph([copy.machine, day(copy.on)].filter(Boolean).join(' · '), { soft: true });
  const last = copy.sections.findLast(({ id }) => isPriced(id))?.id;
  for (const { id, name, lines } of copy.sections) {
    if (copy.currency !== null && isPriced(id)) {
      priced(print, { name, lines, currency: copy.currency, sum: id === last ? sumOf(copy) : null });
      continue;
    }
    print.heading(2, name);
    if (id === 'photos') photos(print, lines, pictures);
    else if (id === 'cautions') for (const { text } of lines) caution(print, text);
    else if (id === 'done' || id === 'parts') print.list(lines.map(({ text }) => text));
    else for (const { text } of lines) print.paragraph(text);
  }
  return print.finish();
}

/** The logo at the right, who writes at the left. */
function letterhead(print: Print, { head: { name, address, logo } }: Copy, pictures: WriteUpFiles['pictures']): void {
  const top = print.y;
  const file = logo && pictures.get(logo.picture);
  const wide = logo && file ? within(logo, logoMm) : 0;
  if (file) print.picture(file, { alt: `Logo of ${name}`, widthMm: wide, xMm: print.widthMm - wide });
  const below = print.y;
  print.y = top;
  const widthMm = print.widthMm - (wide ? wide + 6 : 0);
  print.paragraph(name, { size: 12, bold: true, afterMm: 0.6, widthMm });
  for (const line of address) print.paragraph(line, { size: 9, soft: true, afterMm: 0, widthMm });
  print.y = Math.max(print.y, below) + 8;
}

interface Priced {
  name: string;
  lines: readonly CopyLine[];
  currency: string;
  sum: ReturnType<typeof sumOf> | null;
}

function priced(print: Print, { name, lines, currency, sum }: Priced): void {
  print.heading(2, name);
  print.table(
    [
      { title: 'What', share: 4 },
      { title: 'Sum', share: 1, right: true },
    ],
    lines.map(({ text, price }) => [text, price === null ? 'no price' : money(price, currency)]),
  );
  if (!sum) return;
  const except =
    sum.without > 0 ? `, without ${sum.without === 1 ? 'the line that has' : `the ${sum.without} lines that have`} no price` : '';
  print.paragraph(`In all ${money(sum.total, currency)}${except}.`, { bold: true });
}

function photos(print: Print, lines: readonly CopyLine[], pictures: WriteUpFiles['pictures']): void {
  for (const line of lines) {
    const { photo } = line;
    const file = photo && pictures.get(photo.picture);
    if (!photo || !file) {
      print.paragraph(`${captionOf(line)} (this photo was taken out of the notebook)`, { soft: true });
      continue;
    }
    print.picture(file, {
      alt: captionOf(line),
      widthMm: within(photo, photoMm),
      caption: captionOf(line),
      over: (pen, size) => drawPhotoMarks(pen, photo.marks, size),
    });
    print.space(2);
  }
}

/** Its first sentence is what is looked at. */
function caution(print: Print, text: string): void {
  const [, title = text, rest = ''] = /^(.+?[.!])\s+(.*)$/s.exec(text) ?? [];
  print.caution(title, rest, /mains|volt|charge|capacitor|electric/i.test(text));
}
