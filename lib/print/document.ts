/**
 * The one way this notebook makes PDFs: tagged (headings, paragraphs, lists, tables, figures with their text), with a title and a
 * language, the book's fonts embedded, text that can be selected. Measures are in millimetres, type sizes in points.
 *
 * Blocks are set one below the other and begin a new page when they must:
 *
 *     const print = printDocument({ title: 'Row 6 is dead', paper: 'a4', made: new Date(), footer: 'Ashgate Shed' });
 *     print.heading(1, 'Row 6 is dead');
 *     print.paragraph('What was found.');
 *     print.table([{ title: 'Part', share: 3 }, { title: 'Number', share: 1, right: true }], [['Terminal', '11']]);
 *     await print.picture(jpeg, { alt: 'The burnt plug', widthMm: 80, caption: 'Before' });
 *     const bytes = await print.finish();
 */
import PDFDocument from 'pdfkit';
import QRCode from 'qrcode';
import { firstFont } from './fonts';
import { pointsPerMm as k, marginMm, type Paper, papers } from './paper';
import { type Pen, penAt } from './pen';
import { drawRuns, type Line, lineHeight, linesOf, runsOf, type Text, widthOf } from './type';

export const ink = '#1c1b19';
export const softInk = '#55514a';
const rule = '#b9b3a6';
const warning = '#a8321f';

export interface PrintOptions {
  title: string; // of the document; readers show it in the window's title
  paper: Paper;
  made: Date; // stands in the file as the time it was made
  language?: string; // BCP 47; "en" without it
  author?: string;
  header?: string; // at the top of every page but the first
  footer?: string; // at the foot of every page, beside "Page 1 of 3"
  sideways?: boolean; // landscape
}
export interface Column {
  title: string;
  share: number; // of the width, against the other columns' shares
  right?: boolean; // figures stand at the right
  mono?: boolean;
  /** Draws into the cell beside what its words say, from the cell's top left corner; it is not read aloud. */
  draw?(pen: Pen, row: number, size: { widthMm: number; heightMm: number }): void;
}
export interface PictureOptions {
  alt: string; // what it shows; read aloud in its place
  widthMm: number; // kept, unless the picture would be higher than a page, or than it may
  mostHighMm?: number;
  caption?: string;
  xMm?: number; // from the left margin
  /** Draws on it; the pen measures from its top left corner. */
  over?(pen: Pen, size: { widthMm: number; heightMm: number }): void;
}
export interface TextLook {
  size?: number; // points; 10 without it
  bold?: boolean;
  soft?: boolean; // paler
  afterMm?: number; // space below; 2 without it
  widthMm?: number; // to the whole width without it
}

export interface Print {
  readonly widthMm: number; // between the margins
  readonly heightMm: number; // from the top margin to the foot
  readonly leftMm: number;
  /** Where the next block begins, from the top of the page. */
  y: number;
  /** What is left of this page. */
  left(): number;
  /** Begins a new page unless so many millimetres are left on this one. */
  room(mm: number): void;
  newPage(): void;
  space(mm: number): void;
  heading(level: 1 | 2 | 3, text: string): void;
  paragraph(text: Text, look?: TextLook): void;
  /** Bullets, numbers, or boxes to tick on paper. */
  list(items: readonly Text[], mark?: 'bullet' | 'number' | 'box'): void;
  /** The head stands again on every page the table reaches; a row is never broken. */
  table(columns: readonly Column[], rows: readonly (readonly Text[])[]): void;
  /** A framed warning. `electric` draws the sign for electricity instead of the general one. */
  caution(title: string, text: string, electric?: boolean): void;
  /** A JPEG or PNG. */
  picture(image: Buffer, options: PictureOptions): void;
  /** A drawing of ours; the pen measures from the figure's top left corner. `xMm` moves it from the left margin. */
  figure(size: { widthMm: number; heightMm: number; alt: string; xMm?: number }, draw: (pen: Pen) => void): void;
  /** A QR code of an address at `xMm` from the left margin; does not move `y`. */
  qr(address: string, at: { xMm: number; yMm: number; sizeMm: number }): void;
  /** Writes the header, the footer and the page numbers; the whole file. */
  finish(): Promise<Buffer>;
}

export function printDocument(options: PrintOptions): Print {
  const { title, paper, made, language = 'en', sideways = false } = options;
  const sheet = papers[paper];
  const pageWidth = sideways ? sheet.heightMm : sheet.widthMm;
  const pageHeight = sideways ? sheet.widthMm : sheet.heightMm;
  const doc = new PDFDocument({
    size: [pageWidth * k, pageHeight * k],
    margin: 0,
    pdfVersion: '1.7',
    subset: 'PDF/UA' as 'PDF/A-1',
    tagged: true,
    displayTitle: true,
    lang: language,
    bufferPages: true,
    font: firstFont(),
    info: {
      Title: title,
      CreationDate: made,
      ModDate: made,
      Producer: 'Fettlebook',
      Creator: 'Fettlebook',
      ...(options.author && { Author: options.author }),
    },
  });
  const bytes: Buffer[] = [];
  doc.on('data', (chunk: Buffer) => bytes.push(chunk));

  const root = doc.struct('Document');
  doc.addStructure(root);
  const headerHigh = options.header ? 6 : 0; // the running header stands inside the margins
  let top: number = marginMm; // of what is set on the page in hand
  const foot = pageHeight - marginMm - 6; // the footer stands below
  const width = pageWidth - 2 * marginMm;
  let parent = root;

  type Element = ReturnType<typeof doc.struct>;
  /** An element under the current parent; what `fill` adds goes into it. */
  const inside = (tag: string, fill: (element: Element) => void, more: object = {}) => {
    const element = doc.struct(tag, more);
    parent.add(element);
    const outer = parent;
    parent = element;
    fill(element);
    parent = outer;
    element.end();
  };
  /** What only decorates is read by nobody. */
  const artifact = (draw: () => void, pagination = false) => {
    doc.markContent('Artifact', pagination ? { type: 'Pagination' } : { type: 'Layout' });
    draw();
    doc.endMarkedContent();
  };

  const drawLine = (element: Element, line: Line, size: number, x: number, y: number, colour: string) => {
    const baseline = y + (size * 1.0) / k;
    let at = x;
    for (const run of line.runs) {
      const wide = widthOf(doc, run, size);
      const here = at;
      if (run.link) {
        const link = doc.struct('Link', { alt: run.link });
        element.add(link);
        link.add(() => {
          drawRuns(doc, [run], size, here, baseline, colour);
          doc.link(
            here * k,
            y * k,
            wide * k,
            lineHeight(size) * k,
            run.link as string,
            { structParent: link, Contents: new String(run.link) } as object,
          );
        });
        link.end();
      } else element.add(() => drawRuns(doc, [run], size, here, baseline, colour));
      at += wide;
    }
  };
  /** Sets lines from `print.y` on, over as many pages as they need. */
  const setLines = (element: Element, lines: Line[], size: number, x: number, colour: string) => {
    for (const line of lines) {
      print.room(lineHeight(size));
      drawLine(element, line, size, x, print.y, colour);
      print.y += lineHeight(size);
    }
  };

  const headings = {
    1: { size: 18, before: 0, after: 3 },
    2: { size: 13, before: 4, after: 2 },
    3: { size: 11, before: 3, after: 1.5 },
  } as const;
  const print: Print = {
    widthMm: width,
    heightMm: foot - marginMm - headerHigh,
    leftMm: marginMm,
    y: top,
    left: () => foot - print.y,
    room(mm) {
      if (print.left() < mm - 1e-6 && print.y > top) print.newPage();
    },
    newPage() {
      doc.addPage();
      top = marginMm + headerHigh;
      print.y = top;
    },
    space(mm) {
      print.y += mm;
    },
    heading(level, text) {
      const { size, before, after } = headings[level];
      const lines = linesOf(doc, text, size, width, { bold: true });
      print.room(before + lines.length * lineHeight(size) + after + 14); // never the last thing on a page
      if (print.y > top) print.y += before;
      inside(`H${level}`, (element) => setLines(element, lines, size, marginMm, ink));
      print.y += after;
    },
    paragraph(text, { size = 10, bold, soft, afterMm = 2, widthMm = width } = {}) {
      inside('P', (element) =>
        setLines(element, linesOf(doc, text, size, widthMm, bold ? { bold } : {}), size, marginMm, soft ? softInk : ink),
      );
      print.y += afterMm;
    },
    list(items, mark = 'bullet') {
      const size = 10;
      const indent = 7;
      inside('L', () => {
        items.forEach((item, i) => {
          const lines = linesOf(doc, item, size, width - indent);
          print.room(Math.min(lines.length, 3) * lineHeight(size));
          inside('LI', () => {
            inside('Lbl', (label) => {
              if (mark === 'number') drawLine(label, { runs: runsOf(`${i + 1}.`), widthMm: 0 }, size, marginMm, print.y, ink);
              else if (mark === 'bullet') drawLine(label, { runs: runsOf('•'), widthMm: 0 }, size, marginMm + 1.5, print.y, ink);
              else
                label.add(() =>
                  doc
                    .rect((marginMm + 0.4) * k, (print.y + 0.4) * k, 3.6 * k, 3.6 * k)
                    .lineWidth(0.35 * k)
                    .stroke(ink),
                );
            });
            inside('LBody', (body) => setLines(body, lines, size, marginMm + indent, ink));
          });
          print.y += 0.8;
        });
      });
      print.y += 1.6;
    },
    table(columns, rows) {
      const size = 9;
      const pad = 1.2;
      const shares = columns.reduce((sum, column) => sum + column.share, 0);
      const wide = columns.map((column) => (width * column.share) / shares);
      const lefts = wide.map((_, i) => marginMm + wide.slice(0, i).reduce((sum, w) => sum + w, 0));
      const setRow = (cells: readonly Text[], bold: boolean) => {
        const lines = cells.map((cell, i) =>
          linesOf(doc, cell, size, (wide[i] ?? 0) - 2 * pad, { ...(bold && { bold }), ...(columns[i]?.mono && !bold && { mono: true }) }),
        );
        return { lines, high: Math.max(1, ...lines.map((l) => l.length)) * lineHeight(size) + 2 * pad };
      };
      const drawRow = ({ lines, high }: ReturnType<typeof setRow>, tag: 'TH' | 'TD') => {
        inside('TR', () => {
          lines.forEach((cell, i) => {
            inside(
              tag,
              (element) =>
                cell.forEach((line, n) => {
                  const x = (lefts[i] ?? 0) + (columns[i]?.right ? (wide[i] ?? 0) - pad - line.widthMm : pad);
                  drawLine(element, line, size, x, print.y + pad + n * lineHeight(size), ink);
                }),
              tag === 'TH' ? { scope: 'Column' } : {},
            );
          });
        });
        underline(high, tag === 'TH');
      };
      const underline = (high: number, heavy: boolean) => {
        artifact(() =>
          doc
            .moveTo(marginMm * k, (print.y + high) * k)
            .lineTo((marginMm + width) * k, (print.y + high) * k)
            .lineWidth((heavy ? 0.5 : 0.2) * k)
            .stroke(heavy ? ink : rule),
        );
        print.y += high;
      };
      const head = setRow(
        columns.map((c) => c.title),
        true,
      );
      print.room(head.high + 12);
      inside('Table', () => {
        inside('THead', () => drawRow(head, 'TH'));
        inside('TBody', () => {
          for (const [r, cells] of rows.entries()) {
            const row = setRow(cells, false);
            if (print.left() < row.high && print.y > top) {
              print.newPage();
              artifact(() =>
                head.lines.forEach((cell, i) => {
                  cell.forEach((line, n) => {
                    const x = (lefts[i] ?? 0) + (columns[i]?.right ? (wide[i] ?? 0) - pad - line.widthMm : pad);
                    drawRuns(doc, line.runs, size, x, print.y + pad + n * lineHeight(size) + size / k, ink);
                  });
                }),
              );
              underline(head.high, true);
            }
            artifact(() => {
              columns.forEach((column, i) => {
                column.draw?.(penAt(doc, lefts[i] ?? 0, print.y), r, { widthMm: wide[i] ?? 0, heightMm: row.high });
              });
            });
            drawRow(row, 'TD');
          }
        });
      });
      print.y += 3;
    },
    caution(heading, text, electric = false) {
      const size = 10;
      const indent = 14;
      const titles = linesOf(doc, heading, size, width - indent - 3, { bold: true });
      const lines = linesOf(doc, text, size, width - indent - 3);
      const high = Math.max(12, (titles.length + lines.length) * lineHeight(size) + 4);
      print.room(high);
      const y = print.y;
      artifact(() => {
        doc
          .rect(marginMm * k, y * k, width * k, high * k)
          .lineWidth(0.5 * k)
          .stroke(warning);
        drawSign(marginMm + 2.5, y + 2, electric);
      });
      inside('Sect', () => {
        print.y = y + 2;
        inside('P', (element) => setLines(element, titles, size, marginMm + indent, warning));
        inside('P', (element) => setLines(element, lines, size, marginMm + indent, ink));
      });
      print.y = y + high + 2.5;
    },
    picture(image, { alt, widthMm, mostHighMm = print.heightMm, caption, xMm = 0, over }) {
      const opened = (doc as unknown as { openImage(src: Buffer): { width: number; height: number } }).openImage(image);
      const captionHigh = caption ? lineHeight(9) * linesOf(doc, caption, 9, width).length + 1 : 0;
      const high = Math.min(mostHighMm, print.heightMm - captionHigh - 1);
      const scale = Math.min(Math.min(widthMm, width) / opened.width, high / opened.height);
      const w = opened.width * scale;
      const h = opened.height * scale;
      print.room(h + captionHigh);
      print.figure({ widthMm: w, heightMm: h, alt, xMm }, (pen) => {
        doc.image(image, (marginMm + xMm) * k, print.y * k, { width: w * k, height: h * k });
        over?.(pen, { widthMm: w, heightMm: h });
      });
      print.y += 1;
      if (caption) print.paragraph(caption, { size: 9, soft: true });
    },
    figure({ widthMm, heightMm, alt, xMm = 0 }, draw) {
      print.room(heightMm);
      const x = marginMm + xMm;
      const y = print.y;
      inside('Figure', (element) => element.add(() => draw(penAt(doc, x, y))), {
        alt,
        bbox: [x * k, y * k, (x + widthMm) * k, (y + heightMm) * k],
      });
      print.y = y + heightMm;
    },
    qr(address, { xMm, yMm, sizeMm }) {
      const { modules } = QRCode.create(address, { errorCorrectionLevel: 'M' });
      const x = marginMm + xMm;
      const cell = sizeMm / modules.size;
      inside(
        'Figure',
        (element) =>
          element.add(() => {
            for (let row = 0; row < modules.size; row++)
              for (let column = 0; column < modules.size; column++)
                if (modules.get(row, column)) doc.rect((x + column * cell) * k, (yMm + row * cell) * k, cell * k, cell * k);
            doc.fill('#000000');
          }),
        { alt: `QR code of ${address}`, bbox: [x * k, yMm * k, (x + sizeMm) * k, (yMm + sizeMm) * k] },
      );
    },
    finish() {
      const { start, count } = doc.bufferedPageRange();
      for (let i = start; i < start + count; i++) {
        doc.switchToPage(i);
        artifact(() => {
          const y = pageHeight - marginMm;
          const number = `Page ${i - start + 1} of ${count}`;
          const wide = widthOf(doc, { text: number }, 8);
          const line = linesOf(doc, options.footer ?? title, 8, width - wide - 6)[0];
          drawRuns(doc, line?.runs ?? [], 8, marginMm, y, softInk);
          drawRuns(doc, [{ text: number }], 8, marginMm + width - wide, y, softInk);
          if (options.header && i > start)
            drawRuns(doc, linesOf(doc, options.header, 8, width)[0]?.runs ?? [], 8, marginMm, marginMm + 2.6, softInk);
        }, true);
      }
      root.end();
      return new Promise((resolve, reject) => {
        doc.on('end', () => resolve(Buffer.concat(bytes)));
        doc.on('error', reject);
        doc.end();
      });
    },
  };

  /** A triangle with a bolt or a bar and a dot in it. */
  function drawSign(x: number, y: number, electric: boolean): void {
    doc
      .polygon([(x + 4.5) * k, y * k], [(x + 9) * k, (y + 8) * k], [x * k, (y + 8) * k])
      .lineWidth(0.6 * k)
      .lineJoin('round')
      .stroke(warning);
    if (electric) {
      const bolt = [
        [4.9, 2.4],
        [3.4, 5],
        [4.4, 5],
        [4, 7.3],
        [5.7, 4.4],
        [4.7, 4.4],
      ].map(([dx = 0, dy = 0]) => [(x + dx) * k, (y + dy) * k]);
      doc.polygon(...bolt).fill(warning);
    } else {
      doc.rect((x + 4.15) * k, (y + 2.8) * k, 0.7 * k, 2.8 * k).fill(warning);
      doc.circle((x + 4.5) * k, (y + 6.7) * k, 0.5 * k).fill(warning);
    }
  }
  return print;
}
