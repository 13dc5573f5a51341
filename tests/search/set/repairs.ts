/** Invented repairs as a club would have written them down, and pages between them that are none. */
import { atPin, behaviours, causes, extents } from './causes';
import type { Fleet } from './charts';
import { type Random, random } from './random';
import { deviceWords, printed, sentence, upper } from './saying';
import type { Device, Line, Repair, Situation, When, Words } from './types';

const people = ['Ines', 'Tomas', 'Wen', 'Priya', 'Odo', 'Mirte'];
const distractors = 0.1; // share of pages that are no repairs
const firstDay = Date.UTC(2019, 0, 1);
const days = 2500;

export function makeRepairs(count: number, fleet: Fleet, words: Words, seed: number): Repair[] {
  const r = random(seed);
  return Array.from({ length: count }, (_, i) => (r.chance(distractors) ? chore(i, fleet, words, r) : repair(i, fleet, words, r)));
}

const id = (i: number) => `r${String(i).padStart(6, '0')}`;
const day = (r: Random) => new Date(firstDay + r.below(days) * 86_400_000).toISOString().slice(0, 10);

function chore(i: number, fleet: Fleet, words: Words, r: Random): Repair {
  const machine = r.pick(fleet.machines);
  const { title, text } = r.pick(words.chores);
  return {
    id: id(i),
    situation: null,
    machine: machine.chart.id,
    title,
    complaint: '',
    notes: text.replace('{other}', `the ${deviceWords(r.pick(machine.devices), words, r)}`),
    remedy: '',
    circuits: [],
    devices: [],
    place: '',
    atFault: null,
    cause: null,
    outcome: 'unproved',
    on: day(r),
    by: r.pick(people),
    minutes: 10 + r.below(120),
  };
}

function circumstances(r: Random): When | null {
  const x = r.next();
  return x < 0.13 ? 'after-repair' : x < 0.28 ? 'warm' : x < 0.4 ? 'hit' : null;
}

/** The devices that the fault takes with it: itself, its bank, those on one of its lines. */
function affected(main: Device, s: Situation, all: readonly Device[], line: Line): Device[] {
  if (s.extent === 'one') return [main];
  const kind = all.filter((d) => d.kind === main.kind);
  if (s.extent === 'bank') return kind.filter((d) => d.role === main.role);
  if (s.extent === 'line') return kind.filter((d) => d.lines.some((l) => l.net === line.net));
  return kind.slice(0, 6);
}

function repair(i: number, fleet: Fleet, words: Words, r: Random): Repair {
  const machine = r.pick(fleet.machines);
  const device = r.pick(machine.devices);
  const { kind } = device;
  const behaviour = r.pick(behaviours(kind));
  const inBank = machine.devices.filter((d) => d.role === device.role && d.kind === kind && d.side === null).length > 2;
  const possible = extents(kind, behaviour).filter((e) => e !== 'bank' || inBank);
  if (possible.length === 0) return repair(i, fleet, words, r);
  const extent = possible.includes('one') && r.chance(0.6) ? 'one' : r.pick(possible);
  const cause = r.pick(causes(kind, behaviour, extent));
  const side = extent === 'one' ? device.side : null;
  const situation: Situation = {
    machine: machine.chart.id,
    design: machine.chart.design,
    role: device.role,
    kind,
    side,
    behaviour,
    extent,
    when: circumstances(r),
    cause,
  };
  const line = r.pick(device.lines);
  const devices = affected(device, situation, machine.devices, line);
  const named =
    extent === 'line' && devices.length > 2 && r.chance(0.4)
      ? list(devices.slice(0, 3).map((d) => `the ${deviceWords(d, words, r)}`))
      : undefined;
  const it = sentence(situation, words, r, named ?? (r.chance(0.15) && extent === 'one' ? `the ${device.name.toLowerCase()}` : undefined));
  const other = r.pick(machine.devices.filter((d) => d.role !== device.role));
  const outcome = r.chance(0.7) ? 'verified' : r.chance(0.4) ? 'recurred' : 'unproved';
  const causeWords = r.pick(words.causes[cause] ?? []);
  const sentences = [
    r.chance(0.35) ? words.ruledOut.length > 0 && r.pick(words.ruledOut).replace('{cause}', otherCause(cause, words, r)) : '',
    `Found: ${causeWords}.`,
    r.chance(0.5) ? r.pick(words.asides).replace('{other}', `the ${deviceWords(other, words, r)}`) : '',
    outcome === 'verified' ? r.pick(words.proved) : outcome === 'recurred' ? r.pick(words.recurred) : '',
  ];
  const place = atPin.has(cause) ? line.pin : '';
  return {
    id: id(i),
    situation,
    machine: machine.chart.id,
    title: title(device, situation, causeWords, words, r),
    complaint: upper(r.pick(words.openings).replace('{it}', it)),
    notes: sentences
      .filter(Boolean)
      .map((s) => upper(String(s)))
      .join(' '),
    remedy: r.pick(words.remedies[cause] ?? []),
    circuits: devices.map((d) => d.number).filter(Boolean),
    devices,
    place,
    atFault: place || extent === 'line' ? line : null,
    cause,
    outcome,
    on: day(r),
    by: r.pick(people),
    minutes: 10 + r.below(150),
  };
}

const list = (names: string[]): string => `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

function otherCause(cause: string, words: Words, r: Random): string {
  const all = Object.entries(words.causes).filter(([c]) => c !== cause);
  return r.pick(r.pick(all)[1]);
}

/** Technicians title a page by the device, by what they found, or by nothing much. */
function title(device: Device, s: Situation, causeWords: string, words: Words, r: Random): string {
  const x = r.next();
  if (x < 0.35) return s.extent === 'one' ? printed(device) : upper(sentence({ ...s, when: null }, words, r));
  if (x < 0.6) return upper(`${causeWords}, ${device.name.toLowerCase()}`);
  if (x < 0.8) return upper(causeWords);
  return r.pick(['Bench visit', 'Evening job', 'Monday repairs', 'Call-out', 'Before the open day']);
}
