/** The map of a machine on paper: its matrix with names, the wires on columns and rows, where each line is plugged in. */
import { type PinnedKind, type PinnedPhoto, photosOf, photoTitle, pinWords } from '@/lib/core/chart/pinned';
import type { Chart } from '@/lib/core/chart/types';
import { lampPlan, type MatrixLine, type MatrixPlan, matrixPlan } from '@/lib/ui/drawings/matrix-lines';
import { day } from '@/lib/ui/words';
import { type Print, printDocument } from './document';
import type { Paper } from './paper';
import type { Pen } from './pen';
import { drawWire } from './wire';

export interface MapSheet {
  chart: Chart;
  address: string; // of the machine's page
  club: string;
  made: Date;
}

const ink = '#1c1b19';
const left = 40; // for the heads of the rows
const top = 24; // for the heads of the columns

export function matrixMap({ chart, address, club, made }: MapSheet, paper: Paper): Promise<Buffer> {
  const title = `Map of ${chart.title}`;
  const print = printDocument({
    title,
    paper,
    made,
    sideways: true,
    header: title,
    footer: `${club} · ${address} · ${day(made.toISOString())}`,
  });
  print.heading(1, title);
  print.qr(address, { xMm: print.widthMm - 20, yMm: print.y - 11, sizeMm: 20 });
  print.paragraph(`Board design ${chart.design.id}, ${chart.machine.sort}`);
  print.y += 5;
  const photos = photosOf(chart);
  drawMatrix(print, 'Switch matrix', matrixPlan(chart), pinnedOn(photos, 'switch'));
  if (chart.lamps.length > 0) {
    print.newPage();
    drawMatrix(print, 'Lamp matrix', lampPlan(chart), pinnedOn(photos, 'lamp'));
  }
  lines(print, chart);
  direct(print, chart);
  onPhotos(print, photos);
  return print.finish();
}

/** By number: the photos on which something is pinned, counted as the list at the end counts them. */
function pinnedOn(photos: readonly PinnedPhoto[], kind: PinnedKind): ReadonlyMap<string, string> {
  const on = new Map<string, number[]>();
  for (const [i, { pins }] of photos.entries())
    for (const pin of pins) if (pin.kind === kind) on.set(pin.of, [...new Set([...(on.get(pin.of) ?? []), i + 1])]);
  return new Map([...on].map(([number, places]) => [number, `photo ${places.join(', ')}`]));
}

function drawMatrix(print: Print, heading: string, plan: MatrixPlan, pinned: ReadonlyMap<string, string>): void {
  if (plan.columns.length === 0 || plan.rows.length === 0) return;
  print.heading(2, heading);
  const w = (print.widthMm - left) / plan.columns.length;
  const h = Math.min(18, (print.left() - top) / plan.rows.length);
  const words = plan.things.map((t) => `${t.number} ${t.name}, column ${t.column}, row ${t.row}`).join('; ');
  print.figure({ widthMm: print.widthMm, heightMm: top + h * plan.rows.length, alt: `${heading}: ${words}` }, (pen) => {
    for (const [i, line] of plan.columns.entries()) columnHead(pen, line, left + i * w, w);
    for (const [j, line] of plan.rows.entries()) rowHead(pen, line, top + j * h, h);
    for (const [i, c] of plan.columns.entries())
      for (const [j, r] of plan.rows.entries()) {
        const [x, y] = [left + i * w, top + j * h];
        pen.rect(x, y, w, h, { stroke: '#8a8478', width: 0.15 });
        const things = plan.at.get(`${c.number},${r.number}`) ?? [];
        let foot = y + 3.6;
        for (const thing of things) {
          pen.text(thing.number, x + 1, foot, { size: 8.5, bold: true, mono: true, colour: ink });
          const photo = pinned.get(thing.number);
          if (photo) pen.text(photo, x + w - 1, foot, { size: 5.5, align: 'right' });
          for (const line of wrapped(pen, thing.name, w - 2, 6.5)) {
            foot += 2.8;
            pen.text(line, x + 1, foot, { size: 6.5 });
          }
          foot += 3.4;
        }
      }
  });
  print.space(2);
}

function columnHead(pen: Pen, line: MatrixLine, x: number, w: number): void {
  pen.text(`Column ${line.number}`, x + w / 2, 4, { size: 8, bold: true, align: 'middle' });
  for (const [k, text] of wrapped(pen, line.colour, w - 2, 7).entries())
    pen.text(text, x + w / 2, 7.6 + k * 3, { size: 7, align: 'middle' });
  pen.text(line.pin, x + w / 2, 14.4, { size: 7, mono: true, align: 'middle' });
  if (line.colour) drawWire(pen, [x + w / 2, 16], [x + w / 2, top - 0.4], line.colour, 2.2);
}

function rowHead(pen: Pen, line: MatrixLine, y: number, h: number): void {
  const middle = y + h / 2;
  pen.text(`Row ${line.number}`, 0, middle - 2.2, { size: 8, bold: true });
  for (const [k, text] of wrapped(pen, line.colour, 29, 7).entries()) pen.text(text, 0, middle + 1 + k * 2.9, { size: 7 });
  pen.text(line.pin, 28, middle - 2.2, { size: 7, mono: true, align: 'right' });
  if (line.colour) drawWire(pen, [30, middle], [left - 0.4, middle], line.colour, 2.2);
}

/** Words on as many lines as the width asks for, broken after slashes and spaces. */
export function wrapped(pen: Pen, text: string, widthMm: number, size: number): string[] {
  const all: string[] = [];
  for (const word of text.match(/[^\s/]+\/?|\//g) ?? []) {
    const last = all.at(-1);
    const joined = last === undefined ? word : `${last}${last.endsWith('/') ? '' : ' '}${word}`;
    if (last !== undefined && pen.measure(joined, { size }) <= widthMm) all[all.length - 1] = joined;
    else all.push(word);
  }
  return all;
}

/** Every line of the matrices with its wire and all places where it is plugged in. */
function lines(print: Print, { nets, taps, through }: Chart): void {
  const kinds = ['switch-column', 'switch-row', 'lamp-column', 'lamp-row', 'direct'];
  const names: Record<string, string> = {
    'switch-column': 'Column',
    'switch-row': 'Row',
    'lamp-column': 'Lamp column',
    'lamp-row': 'Lamp row',
    direct: 'Direct',
  };
  const all = [...nets.values()].filter((net) => kinds.includes(net.kind));
  if (all.length === 0) return;
  print.newPage();
  print.heading(2, 'Lines');
  print.table(
    [
      { title: 'Line', share: 2 },
      {
        title: '',
        share: 1.2,
        draw: (pen, r, { widthMm, heightMm }) => all[r] && drawWire(pen, [1, heightMm / 2], [widthMm - 3, heightMm / 2], all[r].colour, 2),
      },
      { title: 'Wire', share: 2 },
      { title: 'On the board', share: 1.4, mono: true },
      { title: 'Plugged in at', share: 6, mono: true },
    ],
    all.map((net) => [
      `${names[net.kind]} ${net.number ?? ''}`.trim(),
      '',
      net.colour,
      net.part ?? '',
      [
        (taps.get(net.id) ?? []).map((tap) => tap.pin).join(', '),
        [...through.values()].flatMap(({ net: on, pin }) => (on === net.id ? [pin] : [])).join(', '),
      ]
        .filter(Boolean)
        .join('; in line '),
    ]),
  );
}

/** Where on which photo each thing is pinned, from the left and from the top. */
function onPhotos(print: Print, photos: readonly PinnedPhoto[]): void {
  const shown = photos.flatMap((photo, i) => (photo.pins.length > 0 ? [{ photo, place: i + 1 }] : []));
  if (shown.length === 0) return;
  print.newPage();
  print.heading(2, 'Pinned on photos');
  print.paragraph('Places as shares of the photo’s width and height, from its upper left corner.');
  for (const { photo, place } of shown) {
    const title = photoTitle(photo, place);
    print.heading(3, title === `Photo ${place}` ? title : `Photo ${place}: ${title}`);
    print.table(
      [
        { title: 'What', share: 4 },
        { title: 'From the left', share: 1.2 },
        { title: 'From the top', share: 1.2 },
      ],
      photo.pins.map((pin) => [pinWords(pin), ...pin.at.map((part) => `${Math.round(part * 100)} %`)]),
    );
  }
}

function direct(print: Print, { circuits }: Chart): void {
  const all = circuits.filter((c) => c.kind === 'direct');
  if (all.length === 0) return;
  print.heading(2, 'Switches beside the matrix');
  print.table(
    [
      { title: 'Number', share: 1, mono: true },
      { title: 'Switch', share: 3 },
      { title: 'Where', share: 4 },
    ],
    all.map((c) => [c.number, c.name, c.location]),
  );
}
