/** Pastes that are spoilt in every way: clear findings, never a crash, and nothing of the chart lost. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Applied,
  applyTable,
  type EntryChart,
  emptyMachine,
  marksOf,
  mostRows,
  readTable,
  type Table,
  type Understanding,
  understand,
} from '@/lib/core/chart/entry';
import { boardDesign, machine } from '@/lib/core/chart/schema';
import { lines, machineOf, matrixGrid, nameAt, sb2, sheet, switchList } from './entry-pastes';

const empty = (): EntryChart => ({ design: sb2, machine: emptyMachine(sb2, { id: 'new', name: 'New machine' }) });
const full: EntryChart = { design: sb2, machine: machineOf('lantern-regatta-3') };

/** Reads, understands and applies; what comes of it must be in order whatever was given. */
function taken(source: string | Uint8Array, chart: EntryChart): { table: Table; read: Understanding; applied: Applied } {
  const table = readTable(source);
  const read = understand(table, chart);
  const applied = applyTable(chart, read);
  const bad = [...read.findings, ...applied.findings].filter(
    (f) => f.message === '' || f.mend === '' || f.row < 0 || f.row > table.rows.length || f.column < 0,
  );
  expect(bad).toEqual([]);
  expect(read.not.filter((n) => n.why === '' || n.row < 1 || n.row > table.rows.length || n.column < 0)).toEqual([]);
  for (const { choices, guess, text } of read.asks) {
    expect(text).not.toBe('');
    expect(choices.length).toBeGreaterThan(1);
    expect(guess === undefined || choices.some((c) => c.value === guess)).toBe(true);
  }
  machine.parse(applied.chart.machine);
  boardDesign.parse(applied.chart.design);
  if (read.rows.length === 0 && table.rows.length > 0) expect(read.findings.length + read.asks.length).toBeGreaterThan(0);
  const mark = marksOf(table, read);
  for (const [r, row] of table.rows.slice(0, 40).entries()) for (const c of row.keys()) expect(mark(r + 1, c + 1).mark).not.toBe('');
  return { table, read, applied };
}

/** What pasting never takes away. */
function expectKept(before: EntryChart, { chart }: Applied): void {
  const { switches, direct, loads, lamps, illumination, chains } = before.machine;
  const after = new Map(chart.machine.switches.map((s) => [`${s.column} ${s.row} ${s.name}`, s]));
  expect(switches.filter((s) => !after.has(`${s.column} ${s.row} ${s.name}`))).toEqual([]);
  const lines = new Map(chart.design.nets.map((net) => [net.id, net]));
  expect(before.design.nets.filter((net) => lines.get(net.id)?.kind !== net.kind || lines.get(net.id)?.colour !== net.colour)).toEqual([]);
  for (const [had, has] of [
    [direct, chart.machine.direct],
    [loads, chart.machine.loads],
    [lamps, chart.machine.lamps],
    [illumination, chart.machine.illumination],
    [chains, chart.machine.chains],
  ] as const) {
    expect(has.length).toBeGreaterThanOrEqual(had.length);
  }
}

const bases = [
  sheet(matrixGrid()),
  sheet(switchList()),
  sheet(switchList(), ','),
  sheet(switchList(), ';'),
  sheet(matrixGrid({ matrix: 'lamp' }), ','),
];
const trouble = fc.constantFrom(
  '"',
  '""',
  "'",
  '\t',
  ',',
  ';',
  '|',
  '\n',
  '\r',
  '\r\n',
  '\u0000',
  '\ufeff',
  '\ufffd',
  '\u200b',
  '\u00a0',
  '🜚',
  '\u0301',
  '=1+1',
  '-',
  '99',
  '0',
  'A3J4-99',
  'Column 77',
  'VIO-',
  '(',
  '[',
  '\\',
  '$1',
  '%s',
  '__proto__',
  'constructor',
  'x'.repeat(3000),
);
const spoil = fc.record({
  base: fc.constantFrom(...bases),
  cuts: fc.array(fc.record({ at: fc.double({ min: 0, max: 1, noNaN: true }), drop: fc.integer({ min: 0, max: 40 }), put: trouble }), {
    minLength: 1,
    maxLength: 12,
  }),
});
const spoilt = spoil.map(({ base, cuts }) =>
  cuts.reduce((text, { at, drop, put }) => {
    const i = Math.floor(at * text.length);
    return text.slice(0, i) + put + text.slice(i + drop);
  }, base),
);

describe('a paste that is spoilt', () => {
  it('with quotes, tabs, line ends and signs anywhere is read or refused, and the chart keeps what it had', () => {
    fc.assert(
      fc.property(spoilt, fc.boolean(), (text, onFull) => {
        const chart = onFull ? full : empty();
        expectKept(chart, taken(text, chart).applied);
      }),
      { numRuns: 40 },
    );
  });

  it('in the order of its rows and columns, with rows doubled and cells blank, is read or refused', () => {
    const rows = switchList();
    fc.assert(
      fc.property(
        fc.shuffledSubarray(rows, { minLength: 1 }),
        fc.shuffledSubarray(
          rows[0]!.map((_, i) => i),
          { minLength: 1 },
        ),
        fc.array(fc.nat(700), { maxLength: 200 }),
        (some, columns, blanks) => {
          const cells = some.map((row) => columns.map((c) => row[c] ?? ''));
          for (const n of blanks) {
            const row = cells[n % cells.length];
            if (row) row[n % row.length] = '';
          }
          expectKept(full, taken(sheet([...cells, ...cells.slice(0, 3)]), full).applied);
        },
      ),
      { numRuns: 40 },
    );
  });

  it('of any characters is read or refused', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 400 }), (text) => {
        taken(text, empty());
      }),
      { numRuns: 120 },
    );
  });

  it('of cells that mean something elsewhere is read or refused', () => {
    const words = fc.constantFrom(
      'No.',
      'Switch',
      'Column',
      'Row',
      'Pin',
      'Wire',
      'Line',
      'Goes to',
      'Step',
      'What',
      'Lamps',
      'Back line',
      'Coil',
      'Supply',
      'Header',
      'Key',
      '11',
      '46',
      'D1',
      'L1',
      'A3J4-7',
      'A3J4',
      'J4-7',
      'J4',
      '7',
      'GRY-ORN',
      'BL',
      'BL-BR',
      'switch-row.6',
      'ground',
      'splice',
      'S2 (16 | 46',
      '2.1.3',
      'NC',
      'opto',
      '52 V',
      'F3',
      'none',
      'Spinner',
      '',
      '0',
      '6.3 V a.c.',
    );
    fc.assert(
      fc.property(
        fc.array(fc.array(words, { maxLength: 7 }), { maxLength: 12 }),
        fc.constantFrom('\t', ',', ';', '|'),
        (rows, delimiter) => {
          expectKept(full, taken(sheet(rows, delimiter), full).applied);
        },
      ),
      { numRuns: 120 },
    );
  });

  it('answered at random is read or refused', () => {
    const kinds = fc.constantFrom(
      'switch-matrix',
      'lamp-matrix',
      'switches',
      'lamps',
      'loads',
      'strings',
      'pins',
      'harness',
      'headers',
      'lines',
      'nonsense',
    );
    fc.assert(
      fc.property(spoilt, kinds, fc.constantFrom('number', 'name', 'wire', 'pin', 'header', 'unused', 'nonsense'), (text, kind, first) => {
        const read = understand(readTable(text), full, {
          kind,
          'column.1': first,
          numbering: 'own',
          'stripe-order': 'stripe-base',
          supply: 'nonsense',
        });
        expectKept(full, applyTable(full, read));
      }),
      { numRuns: 40 },
    );
  });
});

const named = sheet(
  [
    ['No.', 'Name', 'Location'],
    ['46', 'Möwe – “Täfelchen”', 'Rückwand, ½ m hoch'],
    ['47', 'Écluse', 'à côté'],
  ],
  ';',
);
const utf8 = new TextEncoder().encode(named);
const utf16 = (low: boolean, mark: boolean) =>
  Uint8Array.from([
    ...(mark ? (low ? [0xff, 0xfe] : [0xfe, 0xff]) : []),
    ...[...named].flatMap((c) => (low ? [c.charCodeAt(0) & 255, c.charCodeAt(0) >> 8] : [c.charCodeAt(0) >> 8, c.charCodeAt(0) & 255])),
  ]);
// Windows-1252: 0x93/0x94 are the double quotation marks, 0x96 the dash (the WHATWG Encoding Standard, index windows-1252).
const windows = Uint8Array.from([...named], (c) => ({ '“': 0x93, '”': 0x94, '–': 0x96 })[c] ?? c.charCodeAt(0));
/** The bytes shown as Windows-1252, as far as these need it. */
const bytesAsText = (bytes: Uint8Array) =>
  Array.from(bytes, (b) => ({ 128: '€', 147: '“', 156: 'œ' })[b] ?? String.fromCharCode(b)).join('');

describe('an encoding', () => {
  it.each<[string, string | Uint8Array, string[]]>([
    ['UTF-8', utf8, []],
    ['UTF-8 with a byte order mark', Uint8Array.from([0xef, 0xbb, 0xbf, ...utf8]), []],
    ['UTF-16, low byte first, with its mark', utf16(true, true), []],
    ['UTF-16, high byte first, with its mark', utf16(false, true), []],
    ['UTF-16, low byte first, without a mark', utf16(true, false), []],
    ['UTF-16, high byte first, without a mark', utf16(false, false), []],
    ['Windows-1252', windows, ['encoding']],
    ['UTF-8 read as Windows-1252 on its way', bytesAsText(utf8), ['encoding']],
    ['UTF-8 read as Latin-1 on its way', String.fromCharCode(...utf8), ['encoding']],
    ['UTF-16 read byte by byte on its way', String.fromCharCode(...utf16(true, true)), ['encoding']],
    ['text as it should be', named, []],
  ])('%s is read right', (_, source, findings) => {
    const { table, read } = taken(source, empty());
    expect(table.rows[1]).toEqual(['46', 'Möwe – “Täfelchen”', 'Rückwand, ½ m hoch']);
    expect(table.findings.map((f) => f.rule)).toEqual(findings);
    expect(read.rows).toHaveLength(2);
  });

  it('Latin-1 letters that only look like UTF-8 are left alone', () => {
    expect(readTable('Name\tWert\nÂ«gÃ¼nÂ» Ω\tx').rows[1]?.[0]).toBe('Â«gÃ¼nÂ» Ω');
  });

  it.each([
    ['a workbook', [0x50, 0x4b, 3, 4, 0x14]],
    ['a PDF', [0x25, 0x50, 0x44, 0x46, 0x2d]],
    ['a picture', [0x89, 0x50, 0x4e, 0x47, 0x0d]],
  ])('%s is refused with the way out', (_, head) => {
    const { table } = taken(Uint8Array.from([...head, ...Array.from({ length: 500 }, (_, i) => (i * 7919) % 256)]), empty());
    expect(table.findings[0]).toMatchObject({ level: 'error', rule: 'not-text' });
    expect(table.findings[0]?.mend).toContain('CSV');
  });

  it('bytes at random are read or refused', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 600 }), (bytes) => {
        taken(bytes, empty());
      }),
      { numRuns: 120 },
    );
  });
});

describe('quotes', () => {
  it('that never close cost one cell, not the rest of the table', () => {
    const rows = switchList().map((row) => row.join('\t'));
    rows[5] = rows[5]!.replace('\t', '\t"');
    const { table, applied } = taken(rows.join('\n'), empty());
    expect(table.findings).toMatchObject([{ rule: 'open-quote', row: 6, column: 2 }]);
    expect(applied.chart.machine.switches).toHaveLength(64);
  });

  it('within a cell and doubled are part of the name', () => {
    const { applied } = taken('No.\tSwitch\n46\t"The ""Eye"" of the gull, 2"" wide"\n47\t5" ramp\n', empty());
    expect(applied.chart.machine.switches.map((s) => s.name)).toEqual(['The "Eye" of the gull, 2" wide', '5" ramp']);
  });

  it('around line breaks and separators hold the cell together', () => {
    expect(readTable('a,"b\nc, d",e\r\n1,2,3').rows).toEqual([
      ['a', 'b\nc, d', 'e'],
      ['1', '2', '3'],
    ]);
  });
});

describe('a long table', () => {
  it('of 10,000 rows is taken whole', () => {
    const [head = [], ...body] = switchList();
    const { table, applied, read } = taken(sheet([head, ...Array.from({ length: 10_000 }, (_, i) => body[i % 64] ?? [])]), empty());
    expect(table.rows).toHaveLength(10_001);
    expect(read.not).toEqual([]);
    expect(applied.chart.machine.switches).toHaveLength(64);
    expect(applied.findings).toEqual([]);
  });

  it('beyond the limit is cut, and told', () => {
    const { table } = taken(`a,b\n${'1,2\n'.repeat(mostRows + 5)}`, empty());
    expect(table.rows).toHaveLength(mostRows);
    expect(table.findings).toMatchObject([{ level: 'error', rule: 'too-long' }]);
  });

  it('of 10,000 rows that are all wrong has its findings summed up', () => {
    const { read, applied } = taken(sheet([['No.', 'Switch'], ...Array.from({ length: 10_000 }, () => ['777', 'Gate'])]), empty());
    expect(read.not).toHaveLength(10_000);
    expect(applied.findings).toHaveLength(1);
    expect(applied.findings[0]?.message).toContain('9999 more');
  });
});

describe('what is asked', () => {
  it('is asked once, and its answer settles it', () => {
    const rows = [
      ['No.', 'Switch', 'Column wire'],
      ...lines.map((c) => [`${c}1`, nameAt(c, 1), `VIO-${['WHT', 'ORN', 'BL', 'YEL', 'PNK', 'GRN', 'TAN', 'RED'][c - 1]}`]),
    ];
    const bare: EntryChart = {
      machine: empty().machine,
      design: { ...sb2, nets: sb2.nets.map((n) => (n.kind === 'switch-column' ? { ...n, colour: 'white' } : n)) },
    };
    const read = understand(readTable(sheet(rows)), bare);
    const [question] = read.asks;
    expect(read.asks).toHaveLength(1);
    expect(question?.id).toBe('colour.bl');
    const answered = understand(readTable(sheet(rows)), bare, {
      'colour.bl': question?.choices.find((c) => c.value === 'black')?.value ?? '',
    });
    expect(answered.asks).toEqual([]);
    expect(answered.not).toEqual([]);
  });
});
