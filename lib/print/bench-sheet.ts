/** A connector plan on paper, for the bench: both faces of the plug at 1:1, every wire by name, the order of work to tick off. */
import { truePitchMm } from '@/lib/core/harness/pitch';
import type { ConnectorPlan, PlanRow } from '@/lib/core/harness/types';
import { day, duration, listed, seenWords } from '@/lib/ui/words';
import { atPosition, gaugeWords, hasWire, headerWords, housingWords, pigtailWords } from '@/lib/widgets/connector-plan/plan-words';
import type { Tick } from '@/lib/widgets/definition';
import { drawCheckBar } from './check-bar';
import { type Print, printDocument } from './document';
import { drawFace, faceHeight } from './faces';
import type { Paper } from './paper';
import type { Pen } from './pen';
import { drawWire, wireNames } from './wire';

export interface BenchSheet {
  plan: ConnectorPlan;
  ticks: Record<string, Tick>; // by step
  seated: Record<string, Tick>; // by position
  tugged: Record<string, Tick>;
  photos: Readonly<Record<string, Buffer>>; // JPEG, of what was found otherwise, by the note's id
  machine: string;
  page: string; // title of its page
  address: string; // of its page; in the QR code too
  club: string;
  made: Date;
}

/** Cautions about electricity, by their id. */
const electric = new Set(['mains', 'high-voltage', 'stored-charge', 'batteries']);

export function benchSheet(sheet: BenchSheet, paper: Paper): Promise<Buffer> {
  const { plan, address } = sheet;
  const title = `Bench sheet ${plan.housingName}`;
  const print = printDocument({
    title: `${title}, ${sheet.machine}`,
    paper,
    made: sheet.made,
    header: `${title}, ${sheet.machine}`,
    footer: `${sheet.club} · ${sheet.page} · ${day(sheet.made.toISOString())}`,
  });
  const qr = 27;
  print.heading(1, title);
  const top = print.y - 11;
  print.qr(address, { xMm: print.widthMm - qr, yMm: top, sizeMm: qr });
  const narrow = { widthMm: print.widthMm - qr - 6 };
  print.paragraph(sheet.machine, { bold: true, size: 11, ...narrow });
  print.paragraph([{ text: `${sheet.page}: ` }, { text: address, link: address }], { size: 8.5, ...narrow });
  print.paragraph(headerWords(plan), narrow);
  print.paragraph(housingWords(plan.housing), narrow);
  print.y = Math.max(print.y, top + qr + 3);
  for (const caution of plan.cautions) print.caution(`${caution.title.replace(/\.$/, '')}.`, caution.text, electric.has(caution.id));
  if (plan.problems.length > 0) {
    print.heading(2, 'Before you begin');
    print.list(
      plan.problems.map((p) => [{ text: `${p.level === 'error' ? 'Stop' : 'Look'}: ${p.message}. `, bold: true }, { text: p.mend }]),
      'box',
    );
  }
  deviations(print, sheet);
  const seats = plan.rows.map(({ position, key, wires }) => ({ position, key, wires }));
  const faces = 2 * (faceHeight(print, plan.header, seats) + 11) + 34;
  if (faces <= print.heightMm) print.room(faces); // both on one sheet, beside the bar that proves them
  print.heading(2, 'Both faces at true size');
  drawCheckBar(print);
  for (const [view, words] of [
    ...(plan.half?.contacts === 'pins'
      ? ([
          ['Q1', 'Wire side: the wires towards you'],
          ['Q2', 'Mating side: turned over in the hand, the pins towards you'],
        ] as const)
      : ([
          ['P1', plan.half ? 'Wire side: the wires towards you' : 'Wire side: as it sits, plugged in, the wires towards you'],
          ['P2', 'Mating side: turned over in the hand, the openings towards you'],
        ] as const)),
  ] as const) {
    print.heading(3, words);
    drawFace(print, plan.header, plan.housingName, seats, view);
  }
  print.paragraph(`Along the rows every measure is true (pitch ${plan.header.pitchMm} mm as parts print it); across them it is not.`, {
    size: 8,
    soft: true,
  });
  cutStrip(print, plan);
  wires(print, sheet);
  supplies(print, plan);
  print.heading(2, `Order of work, about ${duration(plan.minutes)}`);
  print.list(
    plan.steps.map((step) => {
      const tick = sheet.ticks[step.id];
      const done = tick ? ` (done: ${tick.by}, ${day(tick.at)})` : '';
      return [{ text: `${step.title}${done}. `.replace('..', '.'), bold: true }, { text: `${step.detail} ${step.minutes} min` }];
    }),
    'box',
  );
  return print.finish();
}

/** What this machine has otherwise than its chart says, at this header, each with its photo if there is one. */
function deviations(print: Print, { plan, photos }: BenchSheet): void {
  if (plan.asFound.length === 0) return;
  print.heading(2, 'Found otherwise in this machine');
  for (const { found, where } of plan.asFound) {
    const wire = found.wire ? `, wire ${found.wire}` : '';
    print.list([
      [{ text: `${where}: `, bold: true }, { text: `manual: ${found.manual}. Here: ${found.here}${wire}. ${seenWords(found)}` }],
    ]);
    const photo = photos[found.id];
    if (photo) print.picture(photo, { alt: `As found at ${where}: ${found.here}`, widthMm: 60, mostHighMm: 45 });
  }
}

const box = (pen: Pen, ticked: boolean, { widthMm, heightMm }: { widthMm: number; heightMm: number }) => {
  const x = widthMm / 2 - 1.8;
  const y = heightMm / 2 - 1.8;
  pen.rect(x, y, 3.6, 3.6, { stroke: '#1c1b19', width: 0.35 });
  if (ticked)
    pen.line(
      [
        [x + 0.7, y + 1.9],
        [x + 1.5, y + 2.9],
        [x + 3, y + 0.8],
      ],
      { stroke: '#1c1b19', width: 0.5 },
    );
};

function wires(print: Print, { plan, seated, tugged }: BenchSheet): void {
  print.heading(2, 'Wire by wire, in this order');
  const { rows } = plan;
  const wireOf = (row: PlanRow) => (row.key ? 'key' : row.wires.length > 0 ? wireNames(row.wires) : 'not used');
  print.table(
    [
      { title: 'Pin', share: 0.7 },
      {
        title: 'Looks',
        share: 1.1,
        draw(pen, r, { widthMm, heightMm }) {
          const drawn = rows[r]?.wires ?? [];
          drawn.forEach((w, k) => {
            const y = heightMm / 2 + (k - (drawn.length - 1) / 2) * 2.6;
            drawWire(pen, [1.4, y], [widthMm - 2, y], w.colour, drawn.length > 1 ? 1.6 : 2.4);
          });
        },
      },
      { title: 'Wire', share: 3 },
      { title: 'Line, gauge, goes to', share: 4.2 },
      { title: 'Terminal, strip', share: 2.2 },
      {
        title: 'Seated',
        share: 1,
        draw: (pen, r, size) => rows[r] && hasWire(rows[r]) && box(pen, Boolean(seated[rows[r].position]), size),
      },
      {
        title: 'Tugged',
        share: 1,
        draw: (pen, r, size) => rows[r] && hasWire(rows[r]) && box(pen, Boolean(tugged[rows[r].position]), size),
      },
    ],
    rows.map((row) => [
      [{ text: atPosition(plan, row.position), bold: true }],
      '',
      [{ text: wireOf(row), bold: hasWire(row) }, { text: row.found ? `\nfound here: ${listed(row.found)}` : '' }],
      `${gaugeWords(row)}${row.goesTo ? `\n${row.goesTo}` : ''}${row.pigtail?.chosen ? `\n${pigtailWords(row.pigtail)}` : ''}`,
      row.terminal ? `${row.terminal.part}, ${row.terminal.stripMm} mm` : hasWire(row) ? 'none fits' : '',
      '',
      '',
    ]),
  );
}

/** The strip the housing is cut from, at true size while it fits on the paper. */
function cutStrip(print: Print, { housing, header }: ConnectorPlan): void {
  if (housing.how !== 'cut') return;
  const pitch = truePitchMm(header.pitchMm);
  const long = (header.rows === 2 ? Math.ceil(housing.from / 2) : housing.from) * pitch;
  const keep = (header.rows === 2 ? Math.ceil(housing.positions / 2) : housing.positions) * pitch;
  print.heading(3, 'Cutting the housing');
  print.paragraph(housingWords(housing));
  if (long > print.widthMm - 2) return; // longer than the paper: the words say where
  const at = keep + (housing.lost * pitch) / 2; // a blade goes through the position it takes
  const where = housing.lost > 0 ? `through position ${housing.positions + 1}` : `behind position ${housing.positions}`;
  const verb = housing.cut === 'sawn' ? 'saw' : 'break';
  print.figure({ widthMm: Math.max(long, 40), heightMm: 13, alt: `${housing.part}: ${verb} ${where} of ${housing.from}` }, (pen) => {
    pen.rect(0, 2, long, 6, { fill: '#ffffff', stroke: '#1c1b19', width: 0.3 });
    pen.rect(0, 2, keep, 6, { fill: '#e7e2d6', stroke: '#1c1b19', width: 0.3 });
    for (let x = pitch; x < long - 0.1; x += pitch)
      pen.line(
        [
          [x, 2],
          [x, 3.2],
        ],
        { stroke: '#1c1b19', width: 0.15 },
      );
    pen.line(
      [
        [at, 0.4],
        [at, 9.6],
      ],
      { stroke: '#a8321f', width: 0.5, dash: 1 },
    );
    const words = `${verb} ${where}, keep ${housing.positions}`;
    pen.text(words, at, 12, { size: 7, bold: true, align: at > print.widthMm / 2 ? 'right' : 'left' });
  });
  print.space(2);
}

function supplies(print: Print, plan: ConnectorPlan): void {
  if (plan.needs.length === 0) return;
  print.heading(2, 'To fetch');
  print.list(
    plan.needs.map((need) => `${need.quantity} × ${need.name}${need.part ? ` (${need.part})` : ''}`),
    'box',
  );
}
