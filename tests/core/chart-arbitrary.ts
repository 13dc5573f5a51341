/** Charts that fit the schema and little else: names from small pools, so that they often, but not always, refer to something. */
import fc from 'fast-check';
import { type BoardDesign, boardDesign, type Machine, machine } from '@/lib/core/chart/schema';

const pick = <T>(...values: T[]) => fc.constantFrom(...values);
const maybe = <T>(arb: fc.Arbitrary<T>) => fc.option(arb, { nil: undefined, freq: 2 });
const list = <T>(arb: fc.Arbitrary<T>, max: number, min = 0) => fc.array(arb, { minLength: min, maxLength: max });
const small = (min: number, max: number) => fc.integer({ min, max });

const boards = pick('A1', 'A3', 'A03', 'A0');
const headers = pick('A1J1', 'A3J4', 'A3J04', 'A9J9');
const pinNames = fc.tuple(headers, small(0, 12)).map(([h, n]) => `${h}-${n}`);
const lines = pick(
  'switch-column.1',
  'switch-column.0',
  'switch-row.1',
  'switch-row.11',
  'direct.1',
  'lamp-column.1',
  'lamp-row.1',
  'load.1',
  'supply.coil',
  'illumination.1',
  'ground',
  'other.none',
);
const inlines = pick('X1', 'X2', 'X02');
const inlinePins = fc.tuple(inlines, small(0, 12)).map(([x, n]) => `${x}-${n}`);
const kinds = pick('switch-column', 'switch-row', 'direct', 'lamp-column', 'lamp-row', 'load', 'supply', 'illumination', 'ground', 'other');
const colours = pick('black', 'green/yellow', 'yellow/green', 'grey/orange', 'mauve', 'violet/violet');
const fuses = pick('F3, 4 A slow', 'F3, 20 A', 'T500mAL250V', 'somewhere', '');
const numbers = pick('11', '46', '4F', 'D1', 'L1', 'S01', '');
const named = numbers.filter((n) => n !== '');

const hashes = pick('0'.repeat(64), '5e'.repeat(32));
const photos = maybe(
  list(
    fc.record({
      picture: hashes,
      width: small(1, 9000),
      height: small(1, 9000),
      caption: maybe(pick('', 'Upper playfield')),
      on: fc.constant('2026-01-09'),
      by: fc.constant('Wen'),
    }),
    2,
  ),
);
const fraction = pick(0, 0.1234, 1);
const pinned = maybe(
  list(
    fc.record({
      id: pick('one', 'two'),
      photo: hashes,
      at: fc.tuple(fraction, fraction),
      switch: maybe(numbers),
      lamp: maybe(numbers),
      load: maybe(numbers),
      header: maybe(headers),
    }),
    3,
  ),
);
const wires = fc.record({ colour: maybe(colours), awg: maybe(small(10, 36)) }, { requiredKeys: [] });
const face = {
  positions: small(1, 14),
  pitchMm: pick(2, 2.5, 2.54, 3.96, 5.08),
  keys: list(small(1, 16), 3),
  plating: pick('tin', 'gold'),
  termination: pick('insulation-displacement', 'crimp', 'soldered'),
  keyCounted: maybe(fc.boolean()),
  rows: maybe(pick(1, 2)),
  numbering: maybe(pick('along', 'zigzag', 'per-row', 'lettered')),
  skipLetters: maybe(pick('', 'GIOQ', 'ABCDEFGH')),
  pinMm: maybe(pick(0.64, 1.14, 4)),
  pinShape: maybe(pick('square', 'round')),
  lock: maybe(pick('friction', 'shroud', 'none')),
};
const header = fc.record(
  {
    id: headers,
    ...face,
    pins: list(fc.record({ position: small(1, 16), net: lines, wires: maybe(list(wires, 4, 1)) }), 8),
    beside: maybe(list(lines, 2)),
  },
  { requiredKeys: ['id', 'positions', 'pitchMm', 'plating', 'termination', 'pins'] },
);

export const arbitraryDesign: fc.Arbitrary<BoardDesign> = fc
  .record({
    format: fc.constant('fettlebook-board/1'),
    id: fc.constant('SB-2'),
    name: fc.constant('Any'),
    boards: list(fc.record({ designator: boards, name: fc.constant('Board') }), 3, 1),
    matrix: fc.record({
      polarity: pick('strobe-low', 'strobe-high'),
      idle: pick('float', 'pulled', 'driven'),
      rowSupplyVolts: pick(0.1, 5, 12),
      thresholdRatio: pick(0.01, 0.42, 0.99),
      driverVolts: maybe(pick(0, 0.7, 2)),
    }),
    nets: list(
      fc.record({ id: lines, kind: kinds, number: maybe(small(0, 17)), colour: colours, awg: small(10, 36), fuse: maybe(fuses) }),
      14,
    ),
    headers: list(header, 5),
    boardPhotos: photos,
    boardPinned: pinned,
  })
  .map((value) => boardDesign.parse(value));

const contact = {
  name: pick('Spinner', 'Gate', 'Bell'),
  device: pick('leaf', 'opto'),
  also: maybe(list(named, 3)),
  emitterSupply: maybe(lines),
  optoBoard: maybe(fc.constant('Eye board')),
};
const cell = { column: small(0, 16), row: small(0, 16), number: maybe(numbers) };
const { steps } = fc.letrec<{ steps: unknown[]; step: unknown }>((tie) => ({
  steps: list(tie('step'), 3, 1),
  step: fc.oneof(
    { depthSize: 'small', withCrossShrink: true },
    fc.record({ switch: numbers }),
    fc.record({ load: numbers }),
    fc.record({ lamp: numbers }),
    fc.record({ inline: inlinePins }),
    fc.record({ splice: pick('S1', ''), branches: list(tie('steps'), 2, 1) }),
  ),
}));
const date = fc.constant('2026-01-09');

export const arbitraryMachine: fc.Arbitrary<Machine> = fc
  .record({
    format: fc.constant('fettlebook-machine/1'),
    id: fc.constant('any'),
    name: fc.constant('Any'),
    sort: fc.constant('any'),
    design: pick('SB-2', 'SB-2', 'SB-2', 'SB-1'),
    numbering: fc.record(
      {
        order: pick('column-row', 'row-column', 'down-columns', 'along-rows'),
        first: small(0, 200),
        width: small(1, 3),
        base: maybe(fc.record({ column: maybe(pick(0, 1)), row: maybe(pick(0, 1)) })),
        radix: maybe(pick(8, 10, 16)),
        prefix: maybe(pick('', 'S')),
      },
      { requiredKeys: ['order'] },
    ),
    switches: list(fc.record({ ...cell, ...contact, parallel: maybe(fc.boolean()) }), 6),
    direct: list(fc.record({ number: named, net: lines, ...contact }), 4),
    lamps: list(fc.record({ ...cell, name: fc.constant('Lamp'), kind: maybe(pick('tungsten', 'led')) }), 4),
    loads: list(
      fc.record({
        number: named,
        name: fc.constant('Coil'),
        kind: pick('coil', 'flasher', 'motor', 'relay'),
        net: lines,
        supply: lines,
        fuse: maybe(fuses),
        ohms: maybe(pick(4, 90)),
        holdOhms: maybe(pick(4, 90)),
        windings: maybe(pick('single', 'double')),
        flyback: maybe(pick('at the coil', 'on the board', 'none')),
      }),
      4,
    ),
    illumination: list(
      fc.record({
        id: pick('G1', 'G2'),
        name: fc.constant('String'),
        net: lines,
        back: lines,
        lamps: small(0, 3),
        fuse: maybe(fuses),
        supply: maybe(pick('ac', 'dc')),
        taps: maybe(list(pinNames, 3)),
      }),
      3,
    ),
    chains: list(fc.record({ tap: pinNames, steps }), 6),
    asFound: list(
      fc.record({
        id: pick('one', 'two'),
        on: date,
        by: fc.constant('Wen'),
        place: fc.record({ switch: maybe(numbers), pin: maybe(pinNames), net: maybe(lines) }),
        manual: fc.constant(''),
        here: fc.constant(''),
        wire: maybe(colours),
        why: fc.constant(''),
        since: maybe(pick('2019', 'long ago')),
        photo: maybe(pick('0'.repeat(64), '5e'.repeat(32))),
        withdrawn: maybe(fc.record({ on: date, by: fc.constant('Ines'), why: fc.constant('') })),
      }),
      3,
    ),
    keysAsFound: list(
      fc.record({
        header: fc.oneof(headers, inlines),
        pins: maybe(list(small(1, 16), 3)),
        plug: maybe(list(small(1, 16), 3)),
        on: date,
        by: fc.constant('Wen'),
      }),
      3,
    ),
    inline: maybe(
      list(
        fc.record(
          {
            id: inlines,
            name: maybe(fc.constant('Playfield')),
            place: maybe(fc.constant('back left')),
            ...face,
            pinsOn: maybe(pick('board', 'far')),
          },
          { requiredKeys: ['id', 'positions', 'pitchMm', 'plating', 'termination'] },
        ),
        3,
      ),
    ),
    inlinePins: maybe(
      list(
        fc.record(
          { pin: inlinePins, net: lines, wires: maybe(list(wires, 4, 1)), far: maybe(list(wires, 4, 1)) },
          { requiredKeys: ['pin', 'net'] },
        ),
        6,
      ),
    ),
    photos,
    pinned,
  })
  .map((value) => machine.parse(JSON.parse(JSON.stringify(value))));
