/** Reads a PDF as a reader does, with pdfjs-dist: nothing here knows how the file was made. */
import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';

export interface Shape {
  points: [number, number][]; // mm from the page's top left corner
  curved: boolean;
}
export interface ReadPage {
  widthMm: number;
  heightMm: number;
  text: string;
  words: { text: string; x: number; y: number; widthMm: number; size: number }[]; // mm from the top left; size in points
  shapes: Shape[];
  fonts: { name: string; embedded: boolean }[];
  tree: Node | null;
}
export interface Node {
  role: string;
  alt?: string;
  children: Node[];
}
export interface ReadPdf {
  title: string;
  language: string;
  marked: boolean;
  conformance: string | null; // of the metadata: pdfuaid:part
  pages: ReadPage[];
}

const mm = (points: number) => (points * 25.4) / 72;
type Matrix = [number, number, number, number, number, number];
const times = (m: Matrix, n: Matrix): Matrix => [
  m[0] * n[0] + m[2] * n[1],
  m[1] * n[0] + m[3] * n[1],
  m[0] * n[2] + m[2] * n[3],
  m[1] * n[2] + m[3] * n[3],
  m[0] * n[4] + m[2] * n[5] + m[4],
  m[1] * n[4] + m[3] * n[5] + m[5],
];

export async function readPdf(bytes: Buffer): Promise<ReadPdf> {
  const task = getDocument({
    data: new Uint8Array(bytes),
    useSystemFonts: false,
    disableFontFace: true,
    fontExtraProperties: true,
    verbosity: 0,
  });
  const pdf = await task.promise;
  const { info, metadata } = await pdf.getMetadata();
  const pages: ReadPage[] = [];
  for (let n = 1; n <= pdf.numPages; n++) {
    const page = await pdf.getPage(n);
    const { width, height } = page.getViewport({ scale: 1 });
    const content = await page.getTextContent();
    const items = content.items.flatMap((item) => ('str' in item ? [item] : []));
    const list = await page.getOperatorList();
    const names = new Set<string>();
    const shapes: Shape[] = [];
    let here: Matrix = [1, 0, 0, 1, 0, 0];
    const kept: Matrix[] = [];
    list.fnArray.forEach((op, i) => {
      const args = list.argsArray[i];
      if (op === OPS.save) kept.push(here);
      else if (op === OPS.restore) here = kept.pop() ?? here;
      else if (op === OPS.transform) here = times(here, args as Matrix);
      else if (op === OPS.setFont) names.add(args[0]);
      else if (op === OPS.constructPath) {
        const data: number[] = [...(args[1]?.[0] ?? [])];
        const at = (x = 0, y = 0): [number, number] => [
          mm(here[0] * x + here[2] * y + here[4]),
          mm(height - (here[1] * x + here[3] * y + here[5])),
        ];
        let shape: Shape | null = null;
        for (let k = 0; k < data.length; ) {
          const kind = data[k++];
          if (kind === 0) {
            shape = { points: [], curved: false };
            shapes.push(shape);
          }
          if (kind === 0 || kind === 1) {
            shape?.points.push(at(data[k], data[k + 1]));
            k += 2;
          } else if (kind === 2) {
            if (shape) shape.curved = true;
            shape?.points.push(at(data[k + 4], data[k + 5]));
            k += 6;
          } else if (kind !== 4 && kind !== 3) throw new Error(`unknown path step ${kind}`);
        }
      }
    });
    const fonts = [...names].map((name) => {
      const font = page.commonObjs.get(name) as { name: string; missingFile?: boolean; data?: unknown };
      return { name: font.name, embedded: !font.missingFile && Boolean(font.data) };
    });
    const tree = (await page.getStructTree()) as Node | null;
    pages.push({
      widthMm: mm(width),
      heightMm: mm(height),
      text: items.map((item) => item.str + (item.hasEOL ? '\n' : '')).join(''),
      words: items
        .filter((item) => item.str.trim() !== '')
        .map((item) => ({
          text: item.str,
          x: mm(item.transform[4]),
          y: mm(height - item.transform[5]),
          widthMm: mm(item.width),
          size: Math.hypot(item.transform[0], item.transform[1]),
        })),
      shapes,
      fonts,
      tree,
    });
  }
  const marks = await pdf.getMarkInfo();
  const read = {
    title: String((info as { Title?: string }).Title ?? ''),
    language: String((info as { Language?: string }).Language ?? ''),
    marked: Boolean((marks as { Marked?: boolean } | null)?.Marked),
    conformance: (metadata as { getRaw(): string } | null)?.getRaw()?.match(/<pdfuaid:part>(\d+)</)?.[1] ?? null,
    pages,
  };
  await task.destroy();
  return read;
}

/** Every element that has something on this page, with its role, depth first. */
export const elements = (node: Node | null): Node[] =>
  node && hasContent(node) ? [...(node.role && node.role !== 'Root' ? [node] : []), ...(node.children ?? []).flatMap(elements)] : [];
const hasContent = (node: Node): boolean => 'id' in node || (node.children ?? []).some(hasContent);

/** Whatever lies outside a page's margins, in words. */
export function outside({ widthMm, heightMm, shapes, words }: ReadPage, margin: number): string[] {
  const off = (x: number, y: number) =>
    x < margin - 0.01 || y < margin - 0.01 || x > widthMm - margin + 0.01 || y > heightMm - margin + 0.01;
  return [
    ...shapes.filter((s) => s.points.some(([x, y]) => off(x, y))).map((s) => `shape at ${s.points[0]}`),
    ...words.filter((w) => off(w.x, w.y) || off(w.x + (w.widthMm ?? 0), w.y)).map((w) => `“${w.text}” at ${w.x}, ${w.y}`),
  ];
}
