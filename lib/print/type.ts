/** Sets text: measures it, breaks it into lines, draws a line. */
import type PDFDocument from 'pdfkit';
import { type Face, pieces } from './fonts';
import { pointsPerMm } from './paper';

export type Doc = typeof PDFDocument.prototype;

/** A stretch of text in one face; `link` makes it an address to follow. */
export interface Run extends Face {
  text: string;
  link?: string;
}
export type Text = string | Run[];

/** Text as it stands on one line. */
export interface Line {
  runs: Run[];
  widthMm: number;
}

export const runsOf = (text: Text, face: Face = {}): Run[] =>
  typeof text === 'string' ? [{ ...face, text }] : text.map((run) => ({ ...face, ...run }));

/** Width of one run in mm at a size in points. */
export function widthOf(doc: Doc, run: Run, size: number): number {
  return pieces(run.text, run).reduce((sum, { font, text }) => sum + doc.font(font).fontSize(size).widthOfString(text) / pointsPerMm, 0);
}

/** Breaks text into lines no wider than `widthMm`: at spaces and line ends, after slashes and hyphens, inside a word only if it must. */
export function linesOf(doc: Doc, text: Text, size: number, widthMm: number, face: Face = {}): Line[] {
  const lines: Line[] = [{ runs: [], widthMm: 0 }];
  const put = (run: Run, wide: number) => {
    const line = lines.at(-1) as Line;
    const last = line.runs.at(-1);
    if (last && last.bold === run.bold && last.mono === run.mono && last.link === run.link) last.text += run.text;
    else line.runs.push({ ...run });
    line.widthMm += wide;
  };
  const begin = () => lines.push({ runs: [], widthMm: 0 });
  for (const run of runsOf(text, face)) {
    for (const word of run.text.match(/\n|[^\S\n]+|[^\s/-]+[/-]*|[/-]+/g) ?? []) {
      if (word === '\n') {
        begin();
        continue;
      }
      const piece = { ...run, text: word };
      const wide = widthOf(doc, piece, size);
      if ((lines.at(-1) as Line).widthMm + wide <= widthMm + 1e-6) {
        put(piece, wide);
        continue;
      }
      if (/^\s/.test(word)) continue; // the break stands for the space
      if ((lines.at(-1) as Line).runs.length > 0) begin();
      if (wide <= widthMm) {
        put(piece, wide);
        continue;
      }
      for (const part of broken(doc, piece, size, widthMm)) {
        if ((lines.at(-1) as Line).runs.length > 0) begin();
        put(part, widthOf(doc, part, size));
      }
    }
  }
  return lines;
}

/** One word cut into pieces that fit. Letters are measured one by one, so a little room is left for how they sit together. */
function broken(doc: Doc, word: Run, size: number, widthMm: number): Run[] {
  const parts: Run[] = [{ ...word, text: '' }];
  let wide = 0;
  for (const letter of word.text) {
    const one = widthOf(doc, { ...word, text: letter }, size);
    if (wide > 0 && wide + one > widthMm * 0.94) {
      parts.push({ ...word, text: '' });
      wide = 0;
    }
    (parts.at(-1) as Run).text += letter;
    wide += one;
  }
  return parts;
}

/** Height of a line of type in mm. */
export const lineHeight = (size: number): number => (size * 1.32) / pointsPerMm;

/** Draws runs on one line, its foot (the baseline) at `y`, all in mm from the top left corner of the page. */
export function drawRuns(doc: Doc, runs: Run[], size: number, x: number, y: number, colour: string): void {
  let at = x;
  for (const run of runs) {
    for (const { font, text } of pieces(run.text, run)) {
      doc.font(font).fontSize(size).fillColor(colour);
      doc.text(text, at * pointsPerMm, y * pointsPerMm, { lineBreak: false, baseline: 'alphabetic' });
      at += doc.widthOfString(text) / pointsPerMm;
    }
  }
}
