/** Flags to cut out and fold around each wire: pin, colours and line on both halves, so that it reads from either side. */
import { headerIn, headersAndHalves } from '@/lib/core/chart/half-chart';
import { positionLabel } from '@/lib/core/chart/positions';
import type { Chart } from '@/lib/core/chart/types';
import { day } from '@/lib/ui/words';
import { drawCheckBar } from './check-bar';
import { printDocument } from './document';
import type { FlagSize } from './flag-size';
import type { Paper } from './paper';
import type { Pen } from './pen';
import { drawWire } from './wire';

export interface FlagSheet {
  chart: Chart;
  headers: readonly string[]; // headers and halves of in-line connectors, in this order; all of the machine when it is empty
  size: FlagSize;
  club: string;
  made: Date;
}

const wrap = 8; // mm around the wire, between the halves
const gap = 1;

interface Flag {
  pin: string;
  colour: string;
  line: string;
}

function flagsOf({ chart, headers }: FlagSheet): { title: string; flags: Flag[] }[] {
  const wanted = headers.length > 0 ? headers : headersAndHalves(chart).map(({ id }) => id);
  return wanted.flatMap((id) => {
    const there = headerIn(chart, id);
    if (!there) return [];
    const { header, half } = there;
    const flags = header.pins.flatMap(({ position }) => {
      const tap = there.chart.pins.get(`${id}-${position}`);
      if (!tap) return [];
      const net = chart.nets.get(tap.net);
      const line = net ? `${net.name ?? `${net.kind.replace('-', ' ')} ${net.number ?? ''}`}`.trim() : '';
      return tap.wires.map((wire): Flag => ({ pin: `${id}-${positionLabel(header, position) || position}`, colour: wire.colour, line }));
    });
    return flags.length > 0 ? [{ title: half ? `${id} (${half.title})` : id, flags }] : [];
  });
}

export function wireFlags(sheet: FlagSheet, paper: Paper): Promise<Buffer> {
  const { chart, size, club, made } = sheet;
  const title = `Wire flags, ${chart.title}`;
  const print = printDocument({ title, paper, made, header: title, footer: `${club} · ${day(made.toISOString())}` });
  print.heading(1, title);
  print.paragraph('Cut along the lines, lay the coloured strip around the wire, and stick the halves together back to back.');
  drawCheckBar(print);
  const long = 2 * size.widthMm + wrap;
  const across = Math.max(1, Math.floor((print.widthMm + gap) / (long + gap)));
  for (const { title: connector, flags } of flagsOf(sheet)) {
    print.heading(2, connector);
    for (let from = 0; from < flags.length; from += across) {
      const row = flags.slice(from, from + across);
      const words = row.map((flag) => `${flag.pin} ${flag.colour} ${flag.line}`).join('; ');
      print.figure(
        { widthMm: Math.min(print.widthMm, row.length * (long + gap)), heightMm: size.heightMm, alt: `Flags: ${words}` },
        (pen) => {
          for (const [k, flag] of row.entries()) drawFlag(pen, flag, k * (long + gap), size);
        },
      );
      print.space(gap);
    }
  }
  return print.finish();
}

function drawFlag(pen: Pen, { pin, colour, line }: Flag, x: number, { widthMm, heightMm }: FlagSize): void {
  const middle = x + widthMm + wrap / 2;
  pen.rect(x, 0, 2 * widthMm + wrap, heightMm, { stroke: '#8a8478', width: 0.15, dash: 0.8 });
  drawWire(pen, [middle - wrap / 2 + 1, heightMm / 2], [middle + wrap / 2 - 1, heightMm / 2], colour, Math.min(4, heightMm * 0.4));
  for (const at of [x + widthMm / 2, middle + wrap / 2 + widthMm / 2]) {
    fitted(pen, pin, at, heightMm * 0.36, widthMm - 2, { size: 9, bold: true, mono: true });
    fitted(pen, colour, at, heightMm * 0.64, widthMm - 2, { size: 7.5 });
    fitted(pen, line, at, heightMm * 0.92, widthMm - 2, { size: 6.5 });
  }
}

/** Text in the middle of a flag, smaller when it is too long for it. */
function fitted(pen: Pen, text: string, x: number, y: number, room: number, look: { size: number; bold?: boolean; mono?: boolean }): void {
  const wide = pen.measure(text, look);
  pen.text(text, x, y, { ...look, size: look.size * Math.min(1, room / Math.max(wide, 0.1)), align: 'middle' });
}
