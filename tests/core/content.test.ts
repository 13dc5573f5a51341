/** The demo club in content/: everything fits its schema, hangs together, and holds what the search and the story need. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { indexChart, keysOnMachine, lintDesign, lintMachine, photosOf, rowsInView, withPhoto, withPinsOn } from '@/lib/core/chart';
import { type BoardDesign, boardDesign, type Machine, machine, type Pinned } from '@/lib/core/chart/schema';
import { faultClasses } from '@/lib/core/diagnosis/classes';
import { catalogue, stockCount } from '@/lib/core/parts/schema';
import { plainJpeg } from '@/lib/files/plain-jpeg';

const text = (path: string) => readFileSync(new URL(`../../content/${path}`, import.meta.url), 'utf8');
const json = (path: string): unknown => JSON.parse(text(path));
const list = (path: string, ending: string) =>
  readdirSync(new URL(`../../content/${path}`, import.meta.url)).filter((f) => f.endsWith(ending));

const designs: BoardDesign[] = list('designs', '.json').map((f) => boardDesign.parse(json(`designs/${f}`)));
const machines: Machine[] = list('machines', '.json').map((f) => machine.parse(json(`machines/${f}`)));
const parts = catalogue.parse(json('catalogue.json'));
const club = json('club.json') as { name: string; members: { name: string; email: string; role: string }[] };
const index = json('pages/index.json') as { file: string; machine: string | null; by: string; on: string }[];
const designOf = (m: Machine) => designs.find((d) => d.id === m.design)!;
const machineOf = (id: string | null) => machines.find((m) => m.id === id);

/** Printed number, written out here a second time as a check on the chart. */
const numberOf = (m: Machine, column: number, row: number) => {
  if (m.numbering.order === 'column-row') return `${column}${row}`;
  if (m.numbering.order === 'row-column') return `${row}${column}`;
  return String((column - 1) * 8 + row).padStart(m.numbering.width, '0');
};
const named = (m: Machine) =>
  new Map([
    ...m.switches.map((s): [string, string] => [numberOf(m, s.column, s.row), s.name]),
    ...m.direct.map((d): [string, string] => [d.number, d.name]),
  ]);
const pinsOf = (d: BoardDesign) => new Set(d.headers.flatMap((h) => h.pins.map((p) => `${h.id}-${p.position}`)));

interface Block {
  kind: string;
  id: string;
  state: Record<string, unknown>;
}
/** A key with spaces stands in quotes. */
const keyOf = (written: string): string => (written.startsWith('"') ? JSON.parse(written) : written);
const fence = /```widget (\S+) (\S+)\n([\s\S]*?)```\n?/g;
const pages = index.map((entry) => {
  const source = text(`pages/${entry.file}`);
  const blocks = [...source.matchAll(fence)].map(([, kind, id, body]): Block => {
    const lines = body!.trimEnd().split('\n');
    return {
      kind: kind!,
      id: id!,
      state: Object.fromEntries(lines.map((l) => [keyOf(l.slice(0, l.indexOf(': '))), JSON.parse(l.slice(l.indexOf(': ') + 2))])),
    };
  });
  const fix = blocks.find((b) => b.kind === 'fix-record')?.state;
  const circuits = fix ? Object.keys(fix).flatMap((k) => (k.startsWith('circuit.') ? [k.slice(8)] : [])) : [];
  return { ...entry, source, prose: source.replace(fence, ''), blocks, fix, circuits };
});
const repairs = pages.filter((p) => p.fix && p.fix.outcome !== 'open');

describe('charts', () => {
  it('holds two designs and three machines, each on a design that exists', () => {
    expect(designs.map((d) => d.id).sort()).toEqual(['SB-1', 'SB-2']);
    expect(machines.map((m) => m.id).sort()).toEqual(['kestrel-post-1', 'lantern-regatta-3', 'tin-orchard']);
    for (const m of machines) expect(designOf(m), m.id).toBeDefined();
  });

  it('has a small drawn photo whose pins are circuits of their machine, nothing in the file beside the picture', () => {
    const photos = list('photos', '.json').map(
      (f) =>
        json(`photos/${f}`) as { machine: string; file: string; caption: string; on: string; by: string; pinned: Omit<Pinned, 'photo'>[] },
    );
    expect(photos.length).toBeGreaterThan(0);
    for (const { machine: id, file, pinned, ...about } of photos) {
      const bytes = readFileSync(new URL(`../../content/photos/${file}`, import.meta.url));
      expect(bytes.length).toBeLessThanOrEqual(60_000);
      const extent = plainJpeg(bytes);
      expect(extent, `${file} holds a picture and nothing else`).not.toBeNull();
      const m = machineOf(id)!;
      const photo = { ...about, ...extent!, picture: 'ab'.repeat(32) };
      const shown = machine.parse(withPinsOn(withPhoto(m, photo), photo.picture, photo.caption, pinned));
      expect(lintMachine(shown, designOf(m)).filter(({ path }) => /^(photos|pinned)/.test(path))).toEqual([]);
      expect(photosOf(indexChart(shown, designOf(m)))[0]?.pins.length).toBe(pinned.length);
    }
  });

  it('has only the lint findings that its story wants, with the club’s own terminals', () => {
    const terminals = parts.parts.flatMap((p) => (p.kind === 'terminal' ? [p] : []));
    const wanted: Record<string, string[]> = { 'lantern-regatta-3': ['warning key-not-as-found keysAsFound[0].plug'] };
    for (const d of designs) expect(lintDesign(d, terminals), d.id).toEqual([]);
    for (const m of machines) {
      const found = lintMachine(m, designOf(m)).map((f) => `${f.level} ${f.rule} ${f.path}`);
      expect(found, m.id).toEqual(wanted[m.id] ?? []);
    }
  });

  it('shows what the chart can say: loads behind a supply tap, both windings, a light that is fed, keys found, two rows of pins', () => {
    const m = machineOf('lantern-regatta-3')!;
    const chart = indexChart(m, designOf(m));
    expect(chart.pins.get('A1J2-2')).toMatchObject({
      goesTo: 'Splice S7, then L5 and L9',
      loads: ['L5', 'L6', 'L7', 'L10', 'L9', 'L11', 'L12'],
    });
    expect(chart.pins.get('A1J2-1')).toMatchObject({ goesTo: 'L1 Ball out', behind: [] });
    const onChains = [...chart.pins.values()].flatMap((tap) => tap.loads);
    expect(onChains.sort()).toEqual(m.loads.map((l) => l.number).sort());
    expect(m.loads.filter((l) => l.windings === 'double').map((l) => l.number)).toEqual(['L11']);
    expect(chart.circuit.get('71')).toMatchObject({ device: 'opto', emitterSupply: 'supply.switch', optoBoard: 'Lighthouse opto board' });
    expect(keysOnMachine(chart, 'A3J7')).toEqual({ pins: [5], plug: [] });
    expect(keysOnMachine(chart, 'A3J4')).toEqual({ pins: [4], plug: [4] });
    expect(rowsInView(chart.headers.get('A3J8')!, 'H1')).toEqual([
      [1, 3, 5, 7, 9],
      [2, 4, 6, 8, 10],
    ]);
    for (const d of designs)
      for (const h of d.headers) expect([h.id, h.pinMm, h.pinShape]).toEqual([h.id, h.pitchMm === 2.54 ? 0.64 : 1.14, 'square']);
  });

  it('names at least sixty cells of each matrix, each name once', () => {
    for (const m of machines) {
      expect(m.switches.length, m.id).toBeGreaterThanOrEqual(60);
      expect(new Set(named(m).values()).size, m.id).toBe(m.switches.length + m.direct.length);
      expect(m.loads.length, m.id).toBeGreaterThanOrEqual(8);
      expect(m.asFound.length, m.id).toBeGreaterThanOrEqual(2);
    }
  });

  it('numbers switches in three ways, so that one number is three circuits', () => {
    expect(new Set(machines.map((m) => m.numbering.order)).size).toBe(3);
    expect(new Set(machines.map((m) => named(m).get('46'))).size).toBe(3);
    expect(named(machineOf('lantern-regatta-3')!).get('46')).toBe('Spinner');
  });

  it('gives the two designs no header with the same wiring, and no matrix wire in common', () => {
    const face = (d: BoardDesign) =>
      d.headers.map((h) => JSON.stringify([h.positions, h.pins.map((p) => [p.position, d.nets.find((n) => n.id === p.net)?.colour])]));
    const [one, two] = designs as [BoardDesign, BoardDesign];
    expect(face(one).filter((f) => face(two).includes(f))).toEqual([]);
    const wires = (d: BoardDesign) => d.nets.filter((n) => n.kind === 'switch-column' || n.kind === 'switch-row').map((n) => n.colour);
    expect(wires(one).filter((w) => wires(two).includes(w))).toEqual([]);
  });

  it('runs every matrix switch on exactly one tap of its column and one of its row', () => {
    type Steps = Machine['chains'][number]['steps'];
    const flat = (steps: Steps): string[] =>
      steps.flatMap((s) => ('switch' in s ? [s.switch] : 'branches' in s ? s.branches.flatMap(flat) : []));
    for (const m of machines) {
      const netAt = new Map(designOf(m).headers.flatMap((h) => h.pins.map((p): [string, string] => [`${h.id}-${p.position}`, p.net])));
      const runs = m.chains.flatMap((c) => flat(c.steps).map((n) => `${netAt.get(c.tap)}:${n}`));
      const wanted = m.switches.flatMap((s) =>
        [`switch-column.${s.column}`, `switch-row.${s.row}`].map((net) => `${net}:${numberOf(m, s.column, s.row)}`),
      );
      expect(runs.filter((r) => r.startsWith('switch-')).sort(), m.id).toEqual(wanted.sort());
    }
  });

  it('wires A3J4 of SB-2 as the story needs', () => {
    const sb2 = designs.find((d) => d.id === 'SB-2')!;
    const j4 = sb2.headers.find((h) => h.id === 'A3J4')!;
    expect([j4.positions, j4.keys, j4.pitchMm, j4.plating, j4.termination]).toEqual([11, [4], 2.54, 'tin', 'insulation-displacement']);
    expect(j4.pins.find((p) => p.position === 7)?.net).toBe('switch-row.6');
    expect(sb2.nets.find((n) => n.id === 'switch-row.6')?.colour).toBe('grey/orange');
    expect(j4.pins.find((p) => p.position === 11)?.wires?.map((w) => w.awg)).toEqual([22, 22]);
  });
});

describe('parts and club', () => {
  it('counts stock of every part and of no other', () => {
    const stock = stockCount.parse(json('stock.json'));
    expect(Object.keys(stock).sort()).toEqual(parts.parts.map((p) => p.id).sort());
  });

  it('has no housing of eleven at 2.54 mm, but longer ones in stock', () => {
    const stock = stockCount.parse(json('stock.json'));
    const housings = parts.parts.flatMap((p) => (p.kind === 'housing' && p.pitchMm === 2.54 ? [p] : []));
    expect(housings.map((h) => h.positions)).not.toContain(11);
    expect(housings.some((h) => h.positions > 11 && stock[h.id]! > 0)).toBe(true);
    const terminals = new Set(parts.parts.flatMap((p) => (p.kind === 'terminal' ? [p.id] : [])));
    for (const h of housings)
      expect(
        h.terminals.filter((t) => !terminals.has(t)),
        h.id,
      ).toEqual([]);
  });

  it('has one owner, two editors and a reader', () => {
    expect(club.members.map((m) => m.role).sort()).toEqual(['editor', 'editor', 'owner', 'reader']);
    for (const m of club.members) expect(m.email).toMatch(/^[a-z]+@saltmarsh\.example$/);
  });

  it('puts each trade term in one group of synonyms only', () => {
    const { groups } = json('thesaurus.json') as { groups: string[][] };
    expect(groups.length).toBeGreaterThanOrEqual(35);
    const words = groups.flat();
    expect(words.filter((w, i) => words.indexOf(w) !== i)).toEqual([]);
    expect(words.filter((w) => w !== w.toLowerCase().trim())).toEqual([]);
  });
});

describe('pages', () => {
  it('lists every file once, by a member who may write, on a machine that exists', () => {
    expect(index.map((p) => p.file).sort()).toEqual(list('pages', '.md').sort());
    const writers = club.members.filter((m) => m.role !== 'reader').map((m) => m.name);
    for (const p of pages) {
      expect(writers, p.file).toContain(p.by);
      expect(p.on, p.file).toMatch(/^202[3-6]-\d\d-\d\d$/);
      if (p.machine !== null) expect(machineOf(p.machine), p.file).toBeDefined();
    }
  });

  it('gives each page one heading of level 1, first, and widgets with sorted keys and ids of their own', () => {
    for (const p of pages) {
      expect(p.prose.startsWith('# '), p.file).toBe(true);
      expect(p.prose.match(/^# /gm), p.file).toHaveLength(1);
      expect(p.prose, p.file).not.toContain('```');
      expect(new Set(p.blocks.map((b) => b.id)).size, p.file).toBe(p.blocks.length);
      for (const b of p.blocks) expect(Object.keys(b.state), p.file).toEqual(Object.keys(b.state).sort());
    }
  });

  it('keeps a fix record on every page of a machine, its circuits, pins, parts and cause known', () => {
    const partIds = new Set(parts.parts.map((p) => p.id));
    const causes = new Set<unknown>(faultClasses.map((c) => c.id));
    for (const p of pages.filter((q) => q.machine !== null)) {
      const m = machineOf(p.machine)!;
      const numbers = new Set([...named(m).keys(), ...m.loads.map((l) => l.number)]);
      expect(p.fix, p.file).toBeDefined();
      expect(
        p.circuits.filter((n) => !numbers.has(n)),
        p.file,
      ).toEqual([]);
      if (/^A\d/.test(String(p.fix?.place))) {
        const [header = '', position] = String(p.fix?.place).split('-');
        const known =
          position === undefined ? designOf(m).headers.some((h) => h.id === header) : pinsOf(designOf(m)).has(`${header}-${position}`);
        expect(known, `${p.file}: ${p.fix?.place}`).toBe(true);
      }
      expect(
        Object.keys(p.fix!).filter((k) => k.startsWith('part.') && !partIds.has(k.slice(5))),
        p.file,
      ).toEqual([]);
      if (p.fix!.outcome === 'open') continue;
      expect(causes, p.file).toContain(p.fix!.cause);
      expect([p.fix!.by, p.fix!.on], p.file).toEqual([p.by, p.on]);
      expect(typeof p.fix!.minutes, p.file).toBe('number');
    }
  });

  it('remembers enough repairs, the same fault on both machines of one design among them', () => {
    expect(repairs.length).toBeGreaterThanOrEqual(24);
    for (const cause of ['worn-contact', 'cracked-joint']) {
      const where = new Set(repairs.filter((p) => p.fix!.place === 'A3J4-7' && p.fix!.cause === cause).map((p) => p.machine));
      expect([...where].sort(), cause).toEqual(['kestrel-post-1', 'lantern-regatta-3']);
    }
    const orchard = repairs.filter(
      (p) => p.machine === 'tin-orchard' && p.circuits.some((n) => named(machineOf('lantern-regatta-3')!).has(n)),
    );
    expect(orchard.length).toBeGreaterThanOrEqual(3);
    expect(
      pages
        .filter((p) => p.fix?.outcome === 'open')
        .map((p) => p.machine)
        .sort(),
    ).toEqual(['kestrel-post-1', 'lantern-regatta-3', 'tin-orchard']);
  });

  it('leaves many repairs that only their fix record ties to a wire, a pin or a number', () => {
    const colours = [...new Set(designs.flatMap((d) => d.nets.flatMap((n) => n.colour.split('/'))))].join('|');
    const pair = new RegExp(`\\b(${colours})[/ -](${colours})\\b`, 'i');
    const silent = repairs.filter(
      (p) =>
        p.circuits.length > 0 &&
        !/\bA\d+[JP]\d+/.test(p.prose) &&
        !pair.test(p.prose) &&
        !p.circuits.some((n) => new RegExp(`\\b${n}\\b`).test(p.prose)),
    );
    expect(silent.length).toBeGreaterThanOrEqual(8);
    expect(silent.filter((p) => p.fix!.place === 'A3J4-7').length).toBeGreaterThanOrEqual(3);
  });
});
