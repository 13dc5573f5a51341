/** What a table says of the board design: lines, headers and pins. */
import { boardOf, pinOf } from '../../names';
import { type BoardDesign, type Header, header, type Net, net, netKinds, type Pin, pin } from '../../schema';
import type { Steps } from '../steps';
import type { Put, Understood } from '../types';
import { type Joining, joined, Keyed, report, valid } from './merge-fields';

type Of<K extends Put['what']> = Extract<Put, { what: K }>;
type At = Understood['at'];

/** Lines first, then headers, then the pins that join them. */
export function* applyToDesign(to: Joining, design: BoardDesign, rows: readonly Understood[]): Steps<BoardDesign> {
  const nets = new Keyed<Net>(design.nets, (n) => n.id);
  const headers = new Keyed<Header>(design.headers, (h) => h.id);
  for (const what of ['line', 'header', 'pin'] as const) {
    const own = rows.filter(({ put }) => put.what === what);
    for (const [i, { at, put }] of own.entries()) {
      if (put.what === 'line') applyLine(to, nets, put, at);
      else if (put.what === 'header') applyHeader(to, headers, design, put, at);
      else if (put.what === 'pin') applyPin(to, headers, nets, put, at);
      if (i % 100 === 99) yield;
    }
    yield;
  }
  const same = nets.rows.every((n, i) => n === design.nets[i]) && headers.rows.every((h, i) => h === design.headers[i]);
  return same && nets.rows.length === design.nets.length && headers.rows.length === design.headers.length
    ? design
    : { ...design, nets: nets.rows, headers: headers.rows };
}

function applyLine(to: Joining, nets: Keyed<Net>, { id, fields }: Of<'line'>, at: At): void {
  const [there] = nets.all(id);
  if (there) {
    const row = joined(to, there.row, fields, { at, label: `Line ${id}` });
    const fitting = row && valid(to, net, row, at, `Line ${id}`);
    if (fitting) nets.set(there.index, fitting);
    return;
  }
  const [kind, tail] = splitId(id);
  if (!kind) {
    report(to, 'error', 'unknown-line', at, `${id} is no kind of line.`, `Use one of ${netKinds.join(', ')}.`);
    return;
  }
  const awg = fields.awg ?? usualGauge(nets.rows, kind);
  if (fields.colour === undefined || awg === undefined) {
    const missing = [fields.colour === undefined ? 'wire colour' : '', awg === undefined ? 'gauge' : ''].filter(Boolean).join(' and ');
    report(
      to,
      'error',
      'line-incomplete',
      at,
      `The line ${id} is new to the board design, and its ${missing} is not said.`,
      'Paste a list of lines with wire and gauge first.',
    );
    return;
  }
  const number = /^\d{1,2}$/.test(tail) ? { number: Number(tail) } : {};
  const fitting = valid(to, net, { id, kind, ...number, ...fields, awg }, at, `Line ${id}`);
  if (fitting) nets.add(fitting);
}

function splitId(id: string): [Net['kind'] | null, string] {
  const [kind = '', tail = ''] = id.split('.');
  return [netKinds.find((k) => k === kind) ?? null, tail];
}

/** The gauge that most lines of that kind have. */
function usualGauge(nets: readonly Net[], kind: Net['kind']): number | undefined {
  const counts = new Map<number, number>();
  for (const n of nets) if (n.kind === kind) counts.set(n.awg, (counts.get(n.awg) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0];
}

const needed = { positions: 'positions', pitchMm: 'pitch', plating: 'plating', termination: 'termination' } as const;

function applyHeader(to: Joining, headers: Keyed<Header>, design: BoardDesign, { id, fields }: Of<'header'>, at: At): void {
  const [there] = headers.all(id);
  const label = `Header ${id}`;
  if (there) {
    const row = joined<Header>(to, there.row, fields, { at, label, defaults: { keys: [] } });
    const fitting = row && valid(to, header, row, at, label);
    if (fitting) headers.set(there.index, fitting);
    return;
  }
  const missing = (Object.keys(needed) as (keyof typeof needed)[]).filter((key) => fields[key] === undefined);
  if (missing.length > 0) {
    const message = `${label} is new to the board design, and its ${missing.map((key) => needed[key]).join(', ')} is not said.`;
    report(to, 'error', 'header-incomplete', at, message, 'Paste a list of headers with positions, pitch, plating and termination.');
    return;
  }
  if (!design.boards.some((b) => b.designator === boardOf(id))) {
    report(
      to,
      'error',
      'header-without-board',
      at,
      `${label} is on a board that the design does not have.`,
      `Add the board ${boardOf(id)} to the design first.`,
    );
    return;
  }
  const fitting = valid(to, header, { id, ...fields, pins: [] }, at, label);
  if (fitting) headers.add(fitting);
}

function applyPin(
  to: Joining,
  headers: Keyed<Header>,
  nets: Keyed<Net>,
  { header: id, position, net: line, wires }: Of<'pin'>,
  at: At,
): void {
  const label = pinOf(id, position);
  const [there] = headers.all(id);
  if (!there) {
    report(
      to,
      'error',
      'unknown-header',
      at,
      `The board design has no header ${id}.`,
      'Correct its name, or paste a list of headers first.',
    );
    return;
  }
  const { row } = there;
  if (position > row.positions || row.keys.includes(position)) {
    const what = row.keys.includes(position) ? 'is the key' : `lies beyond the ${row.positions} positions`;
    report(to, 'error', 'no-such-pin', at, `${label} ${what} of ${id}.`, 'Correct the position, or the header.');
    return;
  }
  if (line !== undefined && nets.all(line).length === 0) {
    report(
      to,
      'error',
      'unknown-line',
      at,
      `${label} carries ${line}, which the board design does not have.`,
      'Paste a list of lines first, or correct the name.',
    );
    return;
  }
  const index = row.pins.findIndex((p) => p.position === position);
  const before = row.pins[index];
  const next: Pin | null = before
    ? joined<Pin>(to, before, { ...(line !== undefined && { net: line }), ...(wires && { wires }) }, { at, label })
    : line === undefined
      ? null
      : { position, net: line, ...(wires && { wires }) };
  const fitting = next && valid(to, pin, next, at, label);
  if (!fitting) return;
  const pins = before
    ? row.pins.map((p, i) => (i === index ? fitting : p))
    : [...row.pins, fitting].sort((a, b) => a.position - b.position);
  headers.set(there.index, { ...row, pins });
}
