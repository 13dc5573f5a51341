/** What a table says of the machine: switches, lamps, loads and chains. */
import {
  type BoardDesign,
  type Chain,
  chain,
  type DirectSwitch,
  directSwitch,
  type Illumination,
  type InlineConnector,
  type InlinePin,
  illumination,
  inlineConnector,
  inlinePin,
  type Lamp,
  type Load,
  lamp,
  load,
  type Machine,
  type MatrixSwitch,
  matrixSwitch,
} from '../../schema';
import type { Steps } from '../steps';
import type { Put, Understood } from '../types';
import { type Joining, joined, Keyed, report, valid } from './merge-fields';

type Of<K extends Put['what']> = Extract<Put, { what: K }>;
type At = Understood['at'];
const place = ({ column, row }: { column: number; row: number }) => `${column}·${row}`;

export function* applyToMachine(to: Joining, machine: Machine, design: BoardDesign, rows: readonly Understood[]): Steps<Machine> {
  const lines = new Set(design.nets.flatMap((n) => (n.number === undefined ? [] : [`${n.kind} ${n.number}`])));
  const ids = new Set(design.nets.map((n) => n.id));
  const switches = new Keyed<MatrixSwitch>(machine.switches, place);
  const direct = new Keyed<DirectSwitch>(machine.direct, (d) => d.number);
  const lamps = new Keyed<Lamp>(machine.lamps, place);
  const loads = new Keyed<Load>(machine.loads, (l) => l.number);
  const strings = new Keyed<Illumination>(machine.illumination, (g) => g.id);
  const chains = new Keyed<Chain>(machine.chains, (c) => c.tap);
  const inline = new Keyed<InlineConnector>(machine.inline ?? [], (x) => x.id);
  const inlinePins = new Keyed<InlinePin>(machine.inlinePins ?? [], (x) => x.pin);
  for (const [i, { at, put }] of rows.entries()) {
    if (i % 100 === 99) yield;
    if (put.what === 'switch' && standsIn('switch', put, at)) applySwitch(to, switches, put, at);
    else if (put.what === 'lamp' && standsIn('lamp', put, at)) applyLamp(to, lamps, put, at);
    else if (put.what === 'direct') applyDirect(put, at);
    else if (put.what === 'load') applyLoad(put, at);
    else if (put.what === 'string') applyString(to, strings, put, at);
    else if (put.what === 'chain') applyChain(to, chains, put, at);
    else if (put.what === 'inline') applyInline(to, inline, put, at);
    else if (put.what === 'inlinePin') applyInlinePin(to, inlinePins, put, at);
  }
  return {
    ...machine,
    switches: inOrder(switches.rows, machine.switches.length),
    direct: direct.rows,
    lamps: inOrder(lamps.rows, machine.lamps.length),
    loads: loads.rows,
    illumination: strings.rows,
    chains: chains.rows,
    ...((machine.inline || inline.rows.length > 0) && { inline: inline.rows }),
    ...((machine.inlinePins || inlinePins.rows.length > 0) && { inlinePins: inlinePins.rows }),
  };

  function standsIn(matrix: 'switch' | 'lamp', put: { column: number; row: number; fields: { name?: string } }, at: At): boolean {
    const missing = (['column', 'row'] as const).filter((axis) => !lines.has(`${matrix}-${axis} ${put[axis]}`));
    if (missing.length === 0) return true;
    const where = missing.map((axis) => `${matrix} ${axis} ${put[axis]}`).join(' nor ');
    const message = `${put.fields.name ?? 'This'} cannot be placed: the board design has no ${where}.`;
    report(to, 'error', 'no-such-line', at, message, 'Correct the place, or add the line to the board design first.');
    return false;
  }

  function applyDirect({ number, net, fields }: Of<'direct'>, at: At): void {
    const label = `Direct switch ${number}`;
    if (net !== undefined && !ids.has(net)) {
      report(
        to,
        'error',
        'no-such-line',
        at,
        `${label} is on ${net}, which the board design does not have.`,
        'Correct the line, or add it first.',
      );
      return;
    }
    const [there] = direct.all(number);
    if (!there && net === undefined) {
      report(
        to,
        'error',
        'direct-without-line',
        at,
        `Nothing says on which input ${label} ${fields.name ?? ''} is.`,
        'Give its line, its wire or its pin.',
      );
      return;
    }
    const all = { ...(net !== undefined && { net }), ...fields };
    const next = there ? joined<DirectSwitch>(to, there.row, all, { at, label, defaults: contactDefaults }) : { number, ...all };
    const fitting = next && valid(to, directSwitch, next, at, label);
    if (!fitting) return;
    if (there) direct.set(there.index, fitting);
    else direct.add(fitting);
  }

  function applyLoad({ number, net, fields }: Of<'load'>, at: At): void {
    const label = `Load ${number}`;
    if (net !== undefined && !ids.has(net)) {
      report(
        to,
        'error',
        'no-such-line',
        at,
        `${label} is driven by ${net}, which the board design does not have.`,
        'Correct the line, or add it first.',
      );
      return;
    }
    const [there] = loads.all(number);
    if (!there && fields.supply === undefined) {
      report(
        to,
        'error',
        'load-without-supply',
        at,
        `Nothing says what feeds ${label} ${fields.name ?? ''}.`,
        'Answer the question, or give its supply or its fuse.',
      );
      return;
    }
    const all = { ...(net !== undefined && { net }), ...fields };
    const next = there ? joined<Load>(to, there.row, all, { at, label }) : { number, ...all };
    const fitting = next && valid(to, load, next, at, label);
    if (!fitting) return;
    if (there) loads.set(there.index, fitting);
    else loads.add(fitting);
  }
}

const contactDefaults = { device: 'leaf', normally: 'open' } as const;

/** A cell that two parallel switches share is told apart by the name. */
function applySwitch(to: Joining, switches: Keyed<MatrixSwitch>, { column, row, fields }: Of<'switch'>, at: At): void {
  const label = `Switch at column ${column}, row ${row}`;
  const all = switches.all(place({ column, row }));
  const there = all.length > 1 ? all.find((s) => s.row.name.toLowerCase() === fields.name?.toLowerCase()) : all[0];
  if (all.length > 1 && !there) {
    const names = all.map((s) => s.row.name).join(' and ');
    report(
      to,
      'warning',
      'differs',
      at,
      `${label}: the chart has ${names} in parallel, the table “${fields.name ?? ''}”.`,
      'Change them in the chart by hand.',
    );
    return;
  }
  const next = there
    ? joined<MatrixSwitch>(to, there.row, fields, { at, label, defaults: { ...contactDefaults, diode: 'at the switch' } })
    : { column, row, ...fields };
  const fitting = next && valid(to, matrixSwitch, next, at, label);
  if (!fitting) return;
  if (there) switches.set(there.index, fitting);
  else switches.add(fitting);
}

function applyLamp(to: Joining, lamps: Keyed<Lamp>, { column, row, fields }: Of<'lamp'>, at: At): void {
  const label = `Lamp at column ${column}, row ${row}`;
  const all = lamps.all(place({ column, row }));
  const there = all.find((l) => l.row.name.toLowerCase() === fields.name?.toLowerCase()) ?? all[0];
  const next = there ? joined<Lamp>(to, there.row, fields, { at, label }) : { column, row, ...fields };
  const fitting = next && valid(to, lamp, next, at, label);
  if (!fitting) return;
  if (there) lamps.set(there.index, fitting);
  else lamps.add(fitting);
}

function applyString(to: Joining, strings: Keyed<Illumination>, { id, fields }: Of<'string'>, at: At): void {
  const label = `Lamp string ${id}`;
  const [there] = strings.all(id);
  if (!there && fields.lamps === undefined) {
    report(
      to,
      'error',
      'string-without-lamps',
      at,
      `Nothing says how many lamps ${label} has.`,
      'Give a column “lamps” with the number of them.',
    );
    return;
  }
  const next = there ? joined<Illumination>(to, there.row, fields, { at, label }) : { id, name: id, ...fields };
  const fitting = next && valid(to, illumination, next, at, label);
  if (!fitting) return;
  if (there) strings.set(there.index, fitting);
  else strings.add(fitting);
}

function applyChain(to: Joining, chains: Keyed<Chain>, { tap, steps }: Of<'chain'>, at: At): void {
  const [there] = chains.all(tap);
  const next = there ? joined<Chain>(to, there.row, { steps }, { at, label: `Harness behind ${tap}` }) : { tap, steps };
  const fitting = next && valid(to, chain, next, at, `Harness behind ${tap}`);
  if (!fitting) return;
  if (there) chains.set(there.index, fitting);
  else chains.add(fitting);
}

function applyInline(to: Joining, all: Keyed<InlineConnector>, { id, fields }: Of<'inline'>, at: At): void {
  const label = `In-line connector ${id}`;
  const [there] = all.all(id);
  const next = there ? joined<InlineConnector>(to, there.row, fields, { at, label, defaults: { keys: [] } }) : { id, ...fields };
  const fitting = next && valid(to, inlineConnector, next, at, label);
  if (!fitting) return;
  if (there) all.set(there.index, fitting);
  else all.add(fitting);
}

function applyInlinePin(to: Joining, all: Keyed<InlinePin>, { pin, fields }: Of<'inlinePin'>, at: At): void {
  const label = `In-line position ${pin}`;
  const [there] = all.all(pin);
  const next = there ? joined<InlinePin>(to, there.row, fields, { at, label }) : { pin, ...fields };
  const fitting = next && valid(to, inlinePin, next, at, label);
  if (!fitting) return;
  if (there) all.set(there.index, fitting);
  else all.add(fitting);
}

/** New places in the order of the matrix; a list that has an order keeps it. */
function inOrder<T extends { column: number; row: number }>(rows: T[], before: number): T[] {
  const sorted = rows.every((r, i) => i === 0 || i >= before || compare(rows[i - 1] as T, r) <= 0);
  return sorted ? [...rows].sort(compare) : rows;
}
const compare = (a: { column: number; row: number }, b: { column: number; row: number }) => a.column - b.column || a.row - b.row;
