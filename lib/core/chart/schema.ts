/**
 * The chart: what a board design and a machine are, as plain JSON.
 *
 * A **board design** is shared by many machines: boards, headers, pins, nets. A **machine** names its switches, lamps and loads,
 * says how its harness runs, and records what differs from the manual. Taps, goes-to lists and siblings are derived (chart/index.ts).
 */
import * as z from 'zod';

const id = z.string().regex(/^[a-z0-9][a-z0-9-]{0,63}$/, 'use lower-case letters, digits and hyphens, 64 at most');
/** Colour as `base` or `base/stripe` in the twelve names of content/colours.json, such as `grey/orange`. */
export const colour = z.string().regex(/^[a-z]+(\/[a-z]+)?$/, 'write a wire as base/stripe in colour names, such as grey/orange');
/** Board designator A1, A2 … */
export const boardName = z.string().regex(/^A\d{1,2}$/, 'write a board as A and a number, such as A3');
/** Header designator: board then J and a number, such as `A3J4`. */
export const headerName = z.string().regex(/^A\d{1,2}J\d{1,2}$/, 'write a header as board and J number, such as A3J4');
/** One header position, such as `A3J4-7`. */
export const pinName = z.string().regex(/^A\d{1,2}J\d{1,2}-\d{1,2}$/, 'write a pin as header, hyphen, position, such as A3J4-7');

/** In-line connector, a plug in the middle of a cable: `X1`. Its two halves are on no board. */
export const inlineName = z.string().regex(/^X\d{1,2}$/, 'write an in-line connector as X and a number, such as X1');
/** One position of an in-line connector, such as `X1-4`. */
export const inlinePinName = z.string().regex(/^X\d{1,2}-\d{1,2}$/, 'write it as connector, hyphen, position, such as X1-4');
/** A position of either. */
const anyPin = z.string().regex(/^(A\d{1,2}J|X)\d{1,2}-\d{1,2}$/, 'write a pin as header, hyphen, position, such as A3J4-7, in line X1-4');
/** Any connector: a header of a board, or one in the middle of a cable. */
export const connectorName = z.string().regex(/^(A\d{1,2}J|X)\d{1,2}$/, 'write a header as A3J4, an in-line connector as X1');

export const netKinds = [
  'switch-column',
  'switch-row',
  'direct',
  'lamp-column',
  'lamp-row',
  'load',
  'supply',
  'illumination',
  'ground',
  'other',
] as const;
export type NetKind = (typeof netKinds)[number];
/** A net: one electrical line that leaves the board. `switch-column.4`, `direct.2`, `supply.coil`, `ground`. */
export const netId = z.string().regex(/^[a-z-]+(\.[A-Za-z0-9-]+)?$/, 'write a net as kind.number, such as switch-row.6');

export const wire = z.object({
  colour: colour.optional(), // absent: the net's colour
  awg: z.number().min(10).max(36).optional(), // American wire gauge; absent: the net's gauge
  strands: z.number().int().min(1).max(200).optional(), // 1 = solid
  strandAwg: z.number().min(20).max(50).optional(), // gauge of one strand, as in 7/30
  strandMm: z.number().min(0.02).max(1).optional(), // diameter of one strand, measured; goes before its gauge
  insulationMm: z.number().min(0.3).max(8).optional(), // outer diameter of the insulation
  note: z.string().max(200).optional(),
});

export const net = z.object({
  id: netId,
  kind: z.enum(netKinds),
  number: z.number().int().min(0).max(64).optional(), // matrix line number as the chart prints it
  name: z.string().max(80).optional(),
  colour,
  awg: z.number().min(10).max(36),
  insulationMm: z.number().min(0.3).max(8).optional(),
  part: z.string().max(40).optional(), // what drives or reads it on the board: U14
  volts: z.number().min(0).max(1000).optional(),
  supply: z.enum(['dc', 'ac']).optional(), // nature of `volts`; a.c. is r.m.s.
  amps: z.number().min(0).max(60).optional(), // continuous (r.m.s.) current expected in the line
  storedMicrofarads: z.number().min(0).optional(), // reservoir on this line
  bleederOhms: z.number().positive().optional(), // resistor across that reservoir, if it is whole
  fuse: z.string().max(40).optional(), // name, rating and speed: F3, 4 A slow
  fuseHolder: z.string().max(80).optional(), // where the fuse sits, when it is a joint of its own: on A1, under the back box
  interlock: z.string().max(80).optional(), // what opens the line when a door is opened
  duty: z.number().gt(0).max(1).optional(), // share of the time a pulsed line is on; `amps` is then the current while it is on
  runMetres: z.number().positive().max(30).optional(), // longest run from the board to a device, one way
});

export const pin = z.object({
  position: z.number().int().min(1).max(60),
  net: netId,
  wires: z.array(wire).min(1).max(4).optional(), // absent: one wire of the net's colour and gauge
});

/** What two halves must have alike to go together. */
const face = {
  positions: z.number().int().min(1).max(60),
  pitchMm: z.union([z.literal(2), z.literal(2.5), z.literal(2.54), z.literal(3.96), z.literal(5.08)]),
  keys: z.array(z.number().int().min(1).max(60)).default([]),
  plating: z.enum(['tin', 'gold']),
  termination: z.enum(['insulation-displacement', 'crimp', 'soldered']),
  keyCounted: z.boolean().optional(), // absent: true; false: the chart prints no number for a key (positionLabel)
  rows: z.union([z.literal(1), z.literal(2)]).optional(), // absent: 1
  numbering: z.enum(['along', 'zigzag', 'per-row', 'lettered']).optional(), // how positions run and are printed; absent: along
  skipLetters: z
    .string()
    .regex(/^[A-Z]{0,8}$/, 'write the letters that are left out, such as GIOQ')
    .optional(), // of a lettered row; absent: none
  pinMm: z.number().min(0.3).max(4).optional(), // side of a square pin, diameter of a round one
  pinShape: z.enum(['square', 'round']).optional(),
  lock: z.enum(['friction', 'shroud', 'none']).optional(), // a friction wall stops a plug turned round, not one shifted; a shroud stops both
};

export const header = z.object({
  id: headerName,
  name: z.string().max(80).optional(),
  ...face,
  pins: z.array(pin),
  beside: z.array(netId).optional(), // lines that run in the same loom; they count for the cautions
});

const picture = z.string().regex(/^[0-9a-f]{64}$/, 'write the hash of a picture, 64 digits from 0 to f'); // that the chart's owner holds
const fraction = z.number().min(0).max(1);
const date = z.iso.date('write the date as year-month-day, a day that the calendar has');
const side = z.number().int().min(1).max(100_000); // pixels

/** A photo of the playfield or of a board, upright, on which things of the chart are pinned. */
export const chartPhoto = z.object({
  picture,
  width: side,
  height: side,
  caption: z.string().max(120).optional(),
  on: date,
  by: z.string().min(1).max(80),
});
/** Where on a photo something of the chart is: exactly one of switch, lamp, load (by number) and header. */
export const pinned = z.object({
  id: z.string().regex(/^[A-Za-z0-9-]{1,40}$/, 'use letters, digits and hyphens, 40 at most'),
  photo: picture,
  at: z.array(fraction).length(2, 'give two places: across, down'), // of its width and height from the top left corner: one cell, so that two moves are never mixed
  switch: z.string().max(8).optional(),
  lamp: z.string().max(8).optional(),
  load: z.string().max(8).optional(),
  header: headerName.optional(),
});
const photos = z.array(chartPhoto).max(60).optional();
const pins = z.array(pinned).max(3000).optional();

export const boardDesign = z.object({
  format: z.literal('fettlebook-board/1'),
  id: z.string().regex(/^[A-Z0-9][A-Z0-9-]{0,31}$/, 'use capital letters, digits and hyphens, such as SB-2'),
  name: z.string().min(1).max(120),
  boards: z.array(z.object({ designator: boardName, name: z.string().max(80) })).min(1),
  stripeOrder: z.enum(['base-stripe', 'stripe-base']).optional(), // how this chart prints a pair; here it is always base/stripe
  matrix: z.object({
    polarity: z.enum(['strobe-low', 'strobe-high']),
    idle: z.enum(['float', 'pulled', 'driven']),
    rowSupplyVolts: z.number().positive(),
    thresholdRatio: z.number().gt(0).lt(1),
    strobe: z.enum(['column', 'row']).default('column'), // which the chart calls the strobed line
    rowPullOhms: z.number().positive().optional(), // resistor from the row to its supply; absent: 1 kΩ
    driverVolts: z.number().min(0).max(2).optional(), // a column driver that is on, at the board; absent: 0.15 V
    diodeEnd: z.enum(['contact-column', 'row-contact']).default('contact-column'), // between which two the series diode stands
    floatReads: z.enum(['open', 'closed', 'carry-over']).default('open'), // what a row input reads without its pull
    select: z.enum(['latch', 'decoder']).default('latch'), // how the columns are chosen: a latch bit each, or a binary decoder
  }),
  nets: z.array(net),
  headers: z.array(header),
  notes: z.string().max(2000).optional(),
  boardPhotos: photos,
  boardPinned: pins,
});

const firstLine = z.union([z.literal(0), z.literal(1)]);
/** How switch numbers are printed. Digits: column then row (or the other way). Sequential: counted down the columns or along the rows. */
export const numbering = z.object({
  order: z.enum(['column-row', 'row-column', 'down-columns', 'along-rows']),
  first: z.number().int().min(0).default(1), // first number of a sequence
  width: z.number().int().min(1).max(3).default(2), // printed digits, padded with zeros
  base: z.object({ column: firstLine.optional(), row: firstLine.optional() }).optional(), // digit of the first line of an axis; absent: the line's number
  radix: z.union([z.literal(8), z.literal(10), z.literal(16)]).optional(), // absent: 10
  prefix: z
    .string()
    .regex(/^[A-Za-z]{0,3}-?$/, 'use up to three letters, such as S')
    .optional(),
});

const normally = z.enum(['open', 'closed']);
const contact = {
  name: z.string().min(1).max(80),
  location: z.string().max(120).optional(),
  device: z.enum(['leaf', 'microswitch', 'reed', 'opto', 'other']).default('leaf'),
  normally: normally.default('open'),
  also: z.array(z.string().min(1).max(8)).max(4).optional(), // further numbers that the manual prints for it
  emitterSupply: netId.optional(), // of an optical switch: the line that feeds its light
  optoBoard: z.string().max(40).optional(), // of an optical switch: the small board that shapes its signal
};
const line = z.number().int().min(0).max(16); // a matrix line by the number of its net
export const matrixSwitch = z.object({
  column: line,
  row: line,
  number: z.string().max(8).optional(), // as printed; absent: derived from the numbering scheme
  ...contact,
  diode: z.enum(['at the switch', 'on a strip', 'on the board']).default('at the switch'),
  parallel: z.boolean().optional(), // shares its cell on purpose
});
export const directSwitch = z.object({
  number: z.string().min(1).max(8), // D1 …
  net: netId,
  ...contact,
});
export const lamp = z.object({
  column: line,
  row: line,
  number: z.string().max(8).optional(),
  name: z.string().min(1).max(80),
  kind: z.enum(['tungsten', 'led']).optional(),
});
export const load = z.object({
  number: z.string().min(1).max(8), // L1 …
  name: z.string().min(1).max(80),
  kind: z.enum(['coil', 'flasher', 'motor', 'relay']),
  net: netId, // the driven return
  supply: netId,
  fuse: z.string().max(40).optional(),
  ohms: z.number().positive().optional(), // of a double-wound coil: its strong winding
  holdOhms: z.number().positive().optional(), // of a double-wound coil: what is left when the end-of-stroke switch has opened
  volts: z.number().min(0).max(1000).optional(), // across it when on; absent: those of its supply
  windings: z.enum(['single', 'double']).optional(), // double: an end-of-stroke switch takes the strong winding out
  flyback: z.enum(['at the coil', 'on the board', 'none']).optional(), // where the diode stands that takes the coil's kick
  pulsed: z.boolean().optional(), // held by pulses, not by steady current
  predriver: z.string().max(40).optional(), // what drives the driver: Q31, U5
});
export const illumination = z.object({
  id: z.string().max(16),
  name: z.string().max(80),
  net: netId,
  back: netId,
  lamps: z.number().int().min(0),
  fuse: z.string().max(40).optional(),
  volts: z.number().min(0).max(1000).optional(), // absent: those of its line; a.c. is r.m.s.
  supply: z.enum(['ac', 'dc']).optional(),
  taps: z.array(pinName).optional(), // pins that feed this string; absent: every tap of its two lines
});

/** How the harness runs behind one tap: switches, loads or lamps by number, in order; a splice parts into branches. */
export type Step =
  | { switch: string }
  | { load: string }
  | { lamp: string }
  | { inline: string } // through a position of an in-line connector
  | { splice: string; branches: Step[][] };
export const step: z.ZodType<Step> = z.lazy(() =>
  z.union([
    z.object({ switch: z.string() }),
    z.object({ load: z.string() }),
    z.object({ lamp: z.string() }),
    z.object({ inline: inlinePinName }),
    z.object({ splice: z.string(), branches: z.array(z.array(step)).min(1) }),
  ]),
);
export const chain = z.object({ tap: pinName, steps: z.array(step).min(1) });

/** A plug in the middle of a cable: one half towards the boards, one away from them. Its positions are in a list of their own. */
export const inlineConnector = z.object({
  id: inlineName,
  name: z.string().max(80).optional(),
  place: z.string().max(120).optional(), // where it hangs: under the playfield, back left
  ...face,
  pinsOn: z.enum(['board', 'far']).optional(), // which half has the pins, the one towards the boards or the far one; absent: the far one
});
export const inlinePin = z.object({
  pin: inlinePinName,
  net: netId,
  wires: z.array(wire).min(1).max(4).optional(), // of the half towards the boards; absent: one wire of the net's colour and gauge
  far: z.array(wire).min(1).max(4).optional(), // of the far half; absent: as towards the boards
});

/** The keys of one connector as this machine has them; the two sides are looked at apart. */
export const keysFound = z.object({
  header: connectorName,
  pins: z.array(z.number().int().min(1).max(60)).optional(), // positions whose pin is cut or missing; absent: not looked at
  plug: z.array(z.number().int().min(1).max(60)).optional(), // plugged positions of the housing; absent: not looked at
  on: date,
  by: z.string().min(1).max(80),
});

export const deviation = z.object({
  id: z.string().min(1).max(40),
  on: date,
  by: z.string().min(1).max(80),
  place: z.object({ switch: z.string().optional(), pin: anyPin.optional(), net: netId.optional() }),
  manual: z.string().max(200), // what the manual says, in words
  here: z.string().max(200), // what this machine has, in words
  wire: colour.optional(), // the colour found, when a wire differs
  why: z.string().max(300),
  since: z.string().min(1).max(40).optional(), // how long it has been so, as far as anybody knows: 2019, before it came to us
  photo: picture.optional(),
  withdrawn: z // it was a mistake, or was put right; kept, and counted no longer
    .object({ on: date, by: z.string().min(1).max(80), why: z.string().max(300) })
    .optional(),
});

export const machine = z.object({
  format: z.literal('fettlebook-machine/1'),
  id,
  name: z.string().min(1).max(80),
  unit: z.string().max(20).optional(), // "no. 3"
  sort: z.string().max(80), // "solid-state pinball, four flippers"
  serial: z.string().max(40).optional(),
  since: z.string().max(10).optional(),
  design: z.string(),
  numbering,
  switches: z.array(matrixSwitch),
  direct: z.array(directSwitch).default([]),
  lamps: z.array(lamp).default([]),
  loads: z.array(load).default([]),
  illumination: z.array(illumination).default([]),
  chains: z.array(chain).default([]),
  asFound: z.array(deviation).default([]),
  keysAsFound: z.array(keysFound).default([]),
  inline: z.array(inlineConnector).max(60).optional(),
  inlinePins: z.array(inlinePin).max(2000).optional(),
  photos,
  pinned: pins,
});

export type Wire = z.infer<typeof wire>;
export type Net = z.infer<typeof net>;
export type Pin = z.infer<typeof pin>;
export type Header = z.infer<typeof header>;
export type BoardDesign = z.infer<typeof boardDesign>;
export type Numbering = z.infer<typeof numbering>;
export type MatrixSwitch = z.infer<typeof matrixSwitch>;
export type DirectSwitch = z.infer<typeof directSwitch>;
export type Lamp = z.infer<typeof lamp>;
export type Load = z.infer<typeof load>;
export type Illumination = z.infer<typeof illumination>;
export type Chain = z.infer<typeof chain>;
export type InlineConnector = z.infer<typeof inlineConnector>;
export type InlinePin = z.infer<typeof inlinePin>;
export type KeysFound = z.infer<typeof keysFound>;
export type ChartPhoto = z.infer<typeof chartPhoto>;
export type Pinned = z.infer<typeof pinned>;
export type Deviation = z.infer<typeof deviation>;
export type Machine = z.infer<typeof machine>;
