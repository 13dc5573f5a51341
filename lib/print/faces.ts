/** An end view of a connector at 1:1. One longer than the paper is wide is drawn in parts, every part at true size. */
import { positionLabel, seatOf } from '@/lib/core/chart/positions';
import type { Header } from '@/lib/core/chart/schema';
import type { WireEnd } from '@/lib/core/chart/types';
import type { EndView } from '@/lib/core/chart/views';
import { endViews, wiresInFront } from '@/lib/core/chart/views';
import { truePitchMm } from '@/lib/core/harness/pitch';
import type { Print } from './document';
import type { Pen } from './pen';
import { drawWire, wireNames } from './wire';

export interface Seat {
  position: number;
  key: boolean;
  wires: readonly WireEnd[];
}

const ink = '#1c1b19';
const depth = 6; // of the body beyond its rows, mm: the room across the rows is not that of any part
const lettering = 6.5;
const tail = 7; // length of the wires drawn out of the body
const letterDepth = 2; // room across a turned name
const least = 2.6; // names closer than this are set in a fan

/** What stands at a position, in words. */
export const seatWords = ({ key, wires }: Seat): string => (key ? 'key' : wires.length > 0 ? wireNames(wires) : 'no wire');

/** Places along the row from the left, by position, as the view shows them. */
function placed(header: Header, seats: readonly Seat[], view: EndView) {
  const perRow = header.rows === 2 ? Math.ceil(header.positions / 2) : header.positions;
  return seats.map((seat) => {
    const { row, along } = seatOf(header, seat.position);
    return { ...seat, row, place: endViews[view].mirrored ? perRow - along : along - 1 };
  });
}

/** Draws one end view below what stands on the sheet already. */
export function drawFace(print: Print, header: Header, name: string, seats: readonly Seat[], view: EndView): void {
  const pitch = truePitchMm(header.pitchMm);
  const all = placed(header, seats, view);
  const perRow = Math.max(...all.map((s) => s.place)) + 1;
  const most = Math.floor((print.widthMm - 8) / pitch);
  const parts = Math.ceil(perRow / most);
  const each = Math.ceil(perRow / parts);
  for (let part = 0; part < parts; part++) {
    const here = all.filter((s) => s.place >= part * each && s.place < (part + 1) * each);
    drawPart(print, {
      header,
      name,
      seats: here,
      view,
      pitch,
      from: part * each,
      count: Math.min(each, perRow - part * each),
      part,
      parts,
    });
  }
}

/** Heights of a part in mm, from the words that stand at its positions. */
function measures(header: Header, seats: readonly Seat[]) {
  const rows = header.rows === 2 ? 2 : 1;
  const longest = Math.max(...seats.map((s) => seatWords(s).length + 3)) * 1.2; // at this size of type, at the most
  const above = rows === 2 ? longest + 2 : 6;
  const body = depth + (rows - 1) * truePitchMm(header.pitchMm);
  return { longest, above, body, height: above + body + tail + longest + 1 };
}

/** Room that an end view takes on the sheet. */
export function faceHeight(print: Print, header: Header, seats: readonly Seat[]): number {
  const perRow = header.rows === 2 ? Math.ceil(header.positions / 2) : header.positions;
  const parts = Math.ceil(perRow / Math.floor((print.widthMm - 8) / truePitchMm(header.pitchMm)));
  return parts * (measures(header, seats).height + (parts > 1 ? 8 : 2));
}

interface Part {
  header: Header;
  name: string;
  seats: ReturnType<typeof placed>;
  view: EndView;
  pitch: number;
  from: number; // first place
  count: number; // places
  part: number;
  parts: number;
}

function drawPart(print: Print, { header, name, seats, view, pitch, from, count, part, parts }: Part): void {
  const rows = header.rows === 2 ? 2 : 1;
  const label = (s: Seat) => positionLabel(header, s.position) || '–';
  const text = (s: Seat) => `${label(s)} ${seatWords(s)}`;
  const { above, body, height } = measures(header, seats);
  const { name: viewName } = endViews[view];
  const words = `${name}, ${viewName.toLowerCase()}${parts > 1 ? `, part ${part + 1} of ${parts}` : ''}, true size: ${seats.map(text).join('; ')}`;
  if (parts > 1) {
    print.room(height + 6);
    const order = seats.map((s) => s.position);
    print.paragraph(
      `Part ${part + 1} of ${parts}: positions ${Math.min(...order)} to ${Math.max(...order)}. The parts meet at the broken edge.`,
      {
        size: 8,
        soft: true,
        afterMm: 1,
      },
    );
  }
  print.figure({ widthMm: Math.max(count * pitch + 8, 40), heightMm: height, alt: words }, (pen) => {
    const left = 4;
    const top = above;
    const centre = (s: { place: number }) => left + (s.place - from + 0.5) * pitch;
    const wire = Math.min(1.4, pitch * 0.46);
    const drawTails = () => {
      for (const s of seats) {
        if (s.key) continue;
        const up = rows === 2 && s.row === 1;
        s.wires.forEach((w, k) => {
          const x = centre(s) + (k - (s.wires.length - 1) / 2) * Math.min(wire + 0.3, (pitch * 0.8) / s.wires.length);
          const y = top + depth / 2 + (s.row - 1) * pitch;
          const thick = Math.min(wire, (pitch * 0.7) / s.wires.length);
          drawWire(pen, [x, y], [x, up ? top - tail / 2 : top + body + tail], w.colour, thick);
        });
      }
    };
    if (!wiresInFront(view)) drawTails(); // from the mating side the wires go away behind the body
    outline(pen, left, top, count * pitch, body, part > 0, part < parts - 1);
    for (const s of seats) {
      const side = pitch * 0.56;
      const [x, y] = [centre(s), top + depth / 2 + (s.row - 1) * pitch];
      pen.rect(x - side / 2, y - side / 2, side, side, { fill: s.key ? '#d9d4c8' : '#ffffff', stroke: ink, width: 0.15 });
      if (s.key) {
        const r = side / 2;
        pen.line(
          [
            [x - r, y - r],
            [x + r, y + r],
          ],
          { stroke: ink, width: 0.25 },
        );
        pen.line(
          [
            [x + r, y - r],
            [x - r, y + r],
          ],
          { stroke: ink, width: 0.25 },
        );
      }
    }
    if (wiresInFront(view)) drawTails();
    const first = seats.find((s) => s.position === 1);
    if (first && rows === 1) {
      const [x, y] = [centre(first), top - 0.6];
      pen.line(
        [
          [x - 0.9, y - 1.6],
          [x + 0.9, y - 1.6],
          [x, y],
        ],
        { fill: ink, close: true },
      );
      pen.text('pin 1', x, y - 2.2, { size: 6.5, bold: true, align: 'middle' });
    } else if (first) {
      // Wires leave both rows: the mark stands at the end of the row.
      const out = endViews[view].mirrored ? 1 : -1;
      const x = centre(first) + out * (pitch / 2 + 0.4);
      const y = top + depth / 2;
      pen.line(
        [
          [x + out * 1.8, y - 0.9],
          [x + out * 1.8, y + 0.9],
          [x, y],
        ],
        { fill: ink, close: true },
      );
    }
    for (const s of seats) {
      const size = pitch < least ? 5.5 : lettering;
      const look = { size, bold: s.position === 1, turned: true, colour: s.key || s.wires.length === 0 ? '#55514a' : ink };
      const x = centre(s) + (size * 0.33 * 25.4) / 72;
      if (rows === 2 && s.row === 1) pen.text(text(s), x, top - tail / 2 - 1, look);
      else pen.text(text(s), x, top + body + tail + 1.2, { ...look, align: 'right' });
    }
  });
  print.space(letterDepth);
}

/** The body; a broken edge where it goes on in another part. */
function outline(pen: Pen, x: number, y: number, w: number, h: number, brokenLeft: boolean, brokenRight: boolean): void {
  const zigzag = (at: number): [number, number][] => [
    [at, y],
    [at + 0.8, y + h * 0.25],
    [at - 0.8, y + h * 0.5],
    [at + 0.8, y + h * 0.75],
    [at, y + h],
  ];
  const right: [number, number][] = brokenRight
    ? zigzag(x + w)
    : [
        [x + w, y],
        [x + w, y + h],
      ];
  const left: [number, number][] = brokenLeft
    ? zigzag(x)
    : [
        [x, y],
        [x, y + h],
      ];
  pen.line([...left.toReversed().slice(-1), ...right, ...left.toReversed().slice(0, -1)], {
    fill: '#f4f1ea',
    stroke: ink,
    width: 0.3,
    close: true,
  });
}
