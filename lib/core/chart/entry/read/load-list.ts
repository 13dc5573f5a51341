/** Load lists: coils, flashers, motors and relays with driver, supply and fuse. */
import { fuseAmps, fuseName } from '../../fuse';
import type { Load, Net } from '../../schema';
import { finish, type Steps } from '../steps';
import type { Understood } from '../types';
import { settleColours, type WireCell } from './colours';
import { type LineIndex, type LineParts, lineOf, splitLine, supplyNamed } from './lines';
import type { ListRows } from './list-rows';
import { plainOf } from './plain-fields';
import { readFigure } from './quantities';
import { type At, ask, isNoName, isUnusedWord, newCollection, put, putLine, putParts, type Reading, refuse } from './reading';
import { loadWords, wordIn } from './synonyms';

interface Draft {
  row: number; // index of the table's row
  at: At;
  name: string;
  number: string;
  parts: LineParts;
  driver: string;
  id: string | undefined;
}

export function* readLoads(reading: Reading, list: ListRows, title: string, lines: LineIndex): Steps<Understood[]> {
  const { design, machine } = reading.chart;
  const to = newCollection(reading, lines);
  const supplies = design.nets.filter((net) => net.kind === 'supply');
  const supplyOfText = new Map<string, Net>();
  const drafts: Draft[] = [];
  for (const [i, row] of list.rows.entries()) {
    if (i % 100 === 99) yield;
    const name = list.text(row, 'name');
    const number = list.text(row, 'number');
    if (name === '' || isNoName(name)) continue;
    const at = { row: row + 1, column: list.index('number') || list.index('name') };
    const own = list.parts(row, 'line', (text) => splitLine(reading, text, ['load'], at, lines));
    const pin = list.parts(row, 'pin', (text) => splitLine(reading, text, ['load'], at, lines));
    const driver = (list.text(row, 'driver') || own.part || '').toUpperCase();
    const parts = { ...own, pins: [...own.pins, ...pin.pins] };
    drafts.push({ row, at, name, number, parts, driver, id: lineBefore(number, driver, parts) });
  }
  yield;
  const known = (id: string | undefined) => (id === undefined ? undefined : lines.byId.get(id)?.colour);
  const wires = drafts.flatMap(({ row, id }): WireCell[] => {
    const text = list.text(row, 'wire');
    const line = known(id);
    return text === '' ? [] : [{ text, at: { row: row + 1, column: list.index('wire') }, ...(line !== undefined && { line }) }];
  });
  const colours = yield* settleColours(reading, wires);
  for (const [i, draft] of drafts.entries()) {
    const { row, at, name, number, parts, driver } = draft;
    const wire = list.text(row, 'wire');
    const read = wire === '' ? null : colours.read(wire, known(draft.id));
    const wireAt = { row: row + 1, column: list.index('wire') };
    if (read && 'why' in read) refuse(to, wireAt, wire, read.why);
    const colour = read && 'colour' in read ? read.colour : undefined;
    const tail = Number(/(\d+)\s*$/.exec(number)?.[1] ?? Number.NaN);
    const byWire = draft.id ?? lineOf(parts, ['load'], lines, colour)?.id;
    const id = byWire ?? (Number.isFinite(tail) ? lineOf({ pins: [], rest: '', number: tail }, ['load'], lines)?.id : undefined);
    if (id === undefined) {
      refuse(
        to,
        at,
        [number, name].filter(Boolean).join(' '),
        'Neither its line, driver, wire, pin nor number says which load line drives it.',
      );
      continue;
    }
    putLine(to, wireAt, id, { colour, ...(driver !== '' && { part: driver }) });
    putParts(to, at, id, { ...parts, part: undefined } as typeof parts);
    const net = lines.byId.get(id);
    const fuse = list.text(row, 'fuse');
    const supply = supplyOf(row, net, fuse);
    const fields: Partial<Load> = {
      name,
      kind: kindOf(row, name),
      ...(supply && { supply: supply.id }),
      ...ownFuse(fuse, supply),
      ...plainOf<Load>(to, list, row, 'loads'),
      ...ownVolts(row, net, supply),
    };
    put(to, at, { what: 'load', number: number || `L${net?.number ?? i + 1}`, net: id, fields });
    if (i % 150 === 149) yield;
  }
  return to.rows;

  function lineBefore(number: string, driver: string, parts: ReturnType<typeof splitLine>): string | undefined {
    const line = lineOf(parts, ['load'], lines);
    if (line) return line.id;
    const byPart = design.nets.filter((net) => net.kind === 'load' && driver !== '' && net.part?.toUpperCase() === driver);
    if (byPart[0] && byPart.length === 1) return byPart[0].id;
    return machine.loads.find((l) => l.number === number)?.net;
  }

  function kindOf(row: number, name: string): Load['kind'] {
    const said = wordIn(loadWords, list.text(row, 'loadKind')) ?? wordIn(loadWords, name) ?? wordIn(loadWords, title);
    if (said) return said;
    const answer = ask(reading, {
      id: 'load-kind',
      text: `What are loads such as “${name}”?`,
      choices: (['coil', 'flasher', 'motor', 'relay'] as const).map((value) => ({ value, label: value })),
      guess: 'coil',
      why: 'The table does not say it of every load.',
      at: { row: row + 1, column: list.index('name') },
    });
    return answer as Load['kind'];
  }

  /** By its cell, its fuse, its voltage; else by question, once for the table. */
  function supplyOf(row: number, net: Net | undefined, fuse: string): Net | undefined {
    const text = list.text(row, 'supply');
    const at = { row: row + 1, column: list.index('supply') || list.index('name') };
    const before = supplyOfText.get(text);
    if (before) return before;
    if (text !== '') {
      const parts = list.parts(row, 'supply', (t) => splitLine(reading, t, ['supply'], at, lines));
      const wire = finish(settleColours({ ...reading, asks: [], findings: [] }, [{ text, at }])).read(text);
      const line = lineOf(parts, ['supply'], lines, 'colour' in wire ? wire.colour : undefined);
      const found = supplies.find((s) => s.id === line?.id) ?? supplyNamed(text, design);
      if (found) supplyOfText.set(text, found);
      if (found) return found;
      refuse(to, at, text, 'It is no supply of the board design that is known: give its name, its wire or its volts.');
    }
    const byFuse = supplies.filter(
      (s) => fuse !== '' && s.fuse !== undefined && fuseName(s.fuse) !== null && fuseName(s.fuse) === fuseName(fuse),
    );
    const volts = readFigure(list.text(row, 'volts')) ?? net?.volts;
    const byVolts = supplies.filter((s) => volts !== undefined && s.volts === volts);
    const settled = one(byFuse) ?? one(byVolts) ?? one(supplies);
    if (settled) return settled;
    const answer = ask(reading, {
      id: 'supply',
      text: 'Which line feeds the loads for which the table says nothing?',
      choices: supplies.map((s) => ({
        value: s.id,
        label: [s.name ?? s.id, s.volts === undefined ? '' : `${s.volts} V`].filter(Boolean).join(', '),
      })),
      why: 'A load needs its supply, and neither its fuse nor its volts tell it.',
      at,
    });
    return supplies.find((s) => s.id === answer);
  }

  /** Volts that are not those of its lines. */
  function ownVolts(row: number, net: Net | undefined, supply: Net | undefined): { volts?: number } {
    const volts = readFigure(list.text(row, 'volts'));
    const given = volts !== null && volts !== supply?.volts && volts !== net?.volts;
    return given ? { volts } : {};
  }
}

const one = <T>(items: readonly T[]): T | undefined => (items.length === 1 ? items[0] : undefined);
/** The fuse of a load, unless the cell only names the one of its supply. */
function ownFuse(fuse: string, supply: Net | undefined): { fuse?: string } {
  if (fuse === '' || isUnusedWord(fuse)) return {};
  const same = supply?.fuse !== undefined && fuseName(fuse) !== null && fuseName(fuse) === fuseName(supply.fuse);
  return same && fuseAmps(fuse) === null ? {} : { fuse };
}
