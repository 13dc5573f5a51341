/**
 * From any clue to the circuit. Every part of the clue says which things it fits and why; what fits all parts is the answer, what fits
 * some is offered with its reasons. A clue with several answers is never decided silently.
 */
import type { Chart } from '../chart/types';
import { joinColour } from '../wire/format';
import type { WireReading } from '../wire/parse';
import { type Clue, readClue } from './clue';
import type { Candidate, LookupResult } from './types';
import { circuitView, faceView, lineView, netTitle } from './view';
import { bestFit } from './words';

export const longestClue = 200; // characters
const mostCandidates = 12;
const decisive = 0.25; // how far ahead the first must be to be the only one
const faded = 0.9; // a wire read the other way round, or an as-found colour

/** Fit of one part of a clue: candidate id → how well (0…1) and why. */
type Fits = Map<string, { score: number; reason: string; candidate: Candidate }>;

/** `pick` is `kind:id` of the candidate that somebody chose among several. */
export function lookup(chart: Chart, clue: string, pick?: string): LookupResult {
  const text = clue.trim();
  if (text === '') return { outcome: 'empty' };
  if (text.length > longestClue)
    return {
      outcome: 'none',
      clue: text.slice(0, longestClue),
      advice: [`Keep a clue under ${longestClue} characters: a number, a few words of the name, a wire, or a pin.`],
    };
  const read = readClue(text);
  const { parts, unread } = partsOf(chart, read);
  const candidates = combine(parts);
  const picked = candidates.find((c) => `${c.kind}:${c.id}` === pick);
  if (picked) return one(chart, text, picked);
  const [first, second] = candidates;
  if (!first) return { outcome: 'none', clue: text, advice: advice(chart, read, unread) };
  if (!second || first.score - second.score >= decisive) return one(chart, text, first);
  return { outcome: 'several', clue: text, candidates: candidates.slice(0, mostCandidates) };
}

function one(chart: Chart, clue: string, candidate: Candidate): LookupResult {
  const base = { outcome: 'one' as const, clue, candidate };
  switch (candidate.kind) {
    case 'circuit':
      return { ...base, circuit: circuitView(chart, candidate.id) ?? undefined, circuits: [] };
    case 'line':
      return { ...base, line: lineView(chart, candidate.id) ?? undefined, circuits: onNet(chart, candidate.id) };
    case 'pin': {
      const tap = chart.pins.get(candidate.id);
      const [header = '', position = ''] = candidate.id.split('-');
      const behind = tap && tap.behind.length > 0 ? tap.behind.flatMap((n) => chart.circuit.get(n) ?? []) : onNet(chart, tap?.net ?? '');
      return {
        ...base,
        line: (tap && lineView(chart, tap.net)) ?? undefined,
        face: faceView(chart, header, [Number(position)]) ?? undefined,
        circuits: behind,
      };
    }
    case 'header':
      return { ...base, face: faceView(chart, candidate.id) ?? undefined, circuits: [] };
    case 'lamp':
    case 'load': {
      const net = candidate.kind === 'load' ? chart.loads.find((l) => l.number === candidate.id)?.net : lampNet(chart, candidate.id);
      return { ...base, line: (net && lineView(chart, net)) || undefined, circuits: [] };
    }
  }
}

const onNet = (chart: Chart, net: string) => chart.circuits.filter((c) => c.nets.includes(net));
const lampNet = (chart: Chart, number: string) => {
  const lamp = chart.lamps.find((l) => l.number === number);
  return lamp && `lamp-column.${lamp.column}`;
};

const circuitCandidate = (chart: Chart, number: string): Candidate => ({
  kind: 'circuit',
  id: number,
  title: `${number} ${chart.circuit.get(number)?.name ?? ''}`.trim(),
  reasons: [],
  score: 0,
});
const lineCandidate = (chart: Chart, net: string): Candidate => ({
  kind: 'line',
  id: net,
  title: `${netTitle(chart, net)}, ${chart.nets.get(net)?.colour ?? ''}`,
  reasons: [],
  score: 0,
});

function partsOf(chart: Chart, clue: Clue): { parts: Fits[]; unread: string[] } {
  const unread: string[] = [];
  const parts: Fits[] = [];
  const add = (text: string, fits: Fits) => (fits.size > 0 ? parts.push(fits) : unread.push(text));
  for (const number of clue.numbers) add(number, numberFits(chart, number));
  for (const column of clue.columns) add(`column ${column}`, netFits(chart, `switch-column.${column}`, 1, `it is on column ${column}`));
  for (const row of clue.rows) add(`row ${row}`, netFits(chart, `switch-row.${row}`, 1, `it is on row ${row}`));
  for (const pin of clue.pins) add(pin, pinFits(chart, pin));
  for (const header of clue.headers) add(header, headerFits(chart, header));
  for (const number of clue.lamps)
    add(
      `lamp ${number}`,
      new Map(
        chart.lamps
          .filter((l) => l.number === number)
          .map((l) => [
            `lamp:${number}`,
            {
              score: 1,
              reason: `lamp ${number}`,
              candidate: { kind: 'lamp', id: number, title: `Lamp ${number} ${l.name}`, reasons: [], score: 0 },
            },
          ]),
      ),
    );
  const asWords = [...clue.words];
  for (const wire of clue.wires) {
    // A lone colour word may be part of a name: "red target".
    const named = wire.readings.every((r) => !r.stripe) && chart.circuits.some((c) => bestFit(wire.text, c.name).score === 1);
    if (named) asWords.push(wire.text);
    else add(wire.text, wireFits(chart, wire.readings));
  }
  const words = wordFits(chart, asWords);
  if (words.fits.size > 0) parts.push(words.fits);
  unread.push(...words.unread);
  return { parts, unread };
}

/** Everything that fits all parts; when nothing does, what fits most of them. */
function combine(parts: Fits[]): Candidate[] {
  const all = new Map<string, Candidate & { met: number }>();
  for (const fits of parts) {
    for (const [key, { score, reason, candidate }] of fits) {
      const known = all.get(key) ?? { ...candidate, met: 0 };
      all.set(key, { ...known, met: known.met + 1, score: known.score + score, reasons: [...known.reasons, reason] });
    }
  }
  const most = Math.max(0, ...[...all.values()].map((c) => c.met));
  return [...all.values()]
    .filter((c) => c.met === most)
    .map(({ met, ...c }) => ({ ...c, score: c.score / Math.max(1, parts.length) }))
    .sort((a, b) => b.score - a.score || a.title.localeCompare(b.title, 'en', { numeric: true }));
}

function numberFits(chart: Chart, number: string): Fits {
  const circuit =
    chart.circuit.get(number) ?? chart.circuit.get(number.replace(/^0+(?=\d)/, '')) ?? chart.circuit.get(number.padStart(2, '0'));
  const load = chart.loads.find((l) => l.number.toUpperCase() === number);
  if (circuit)
    return new Map([
      [
        `circuit:${circuit.number}`,
        { score: 1, reason: `its number is ${circuit.number}`, candidate: circuitCandidate(chart, circuit.number) },
      ],
    ]);
  if (load) return new Map([[`load:${load.number}`, { score: 1, reason: `its number is ${load.number}`, candidate: loadCandidate(load) }]]);
  return new Map();
}

const loadCandidate = (load: Chart['loads'][number]): Candidate => ({
  kind: 'load',
  id: load.number,
  title: `${load.number} ${load.name}`,
  reasons: [],
  score: 0,
});

/** A line and every circuit on it. The line itself stands a step ahead: alone, the clue names the line. */
function netFits(chart: Chart, net: string, score: number, reason: string): Fits {
  if (!chart.nets.has(net)) return new Map();
  const fits: Fits = new Map([[`line:${net}`, { score, reason, candidate: lineCandidate(chart, net) }]]);
  for (const c of onNet(chart, net))
    fits.set(`circuit:${c.number}`, { score: score - decisive, reason, candidate: circuitCandidate(chart, c.number) });
  for (const l of chart.loads.filter((x) => x.net === net))
    fits.set(`load:${l.number}`, { score: score - decisive, reason, candidate: loadCandidate(l) });
  return fits;
}

function pinFits(chart: Chart, pin: string): Fits {
  const [header = '', position = ''] = pin.split('-');
  const known = chart.headers.get(header);
  if (!known || Number(position) < 1 || Number(position) > known.positions) return new Map();
  const tap = chart.pins.get(pin);
  const key = known.keys.includes(Number(position));
  const title = tap ? `${pin}, ${netTitle(chart, tap.net)}` : key ? `${pin}, the key` : `${pin}, not used`;
  const fits: Fits = new Map([
    [`pin:${pin}`, { score: 1, reason: `it is pin ${pin}`, candidate: { kind: 'pin', id: pin, title, reasons: [], score: 0 } }],
  ]);
  if (!tap) return fits;
  for (const c of onNet(chart, tap.net))
    fits.set(`circuit:${c.number}`, { score: 1 - decisive, reason: `its line is on ${pin}`, candidate: circuitCandidate(chart, c.number) });
  return fits;
}

function headerFits(chart: Chart, id: string): Fits {
  const header = chart.headers.get(id);
  if (!header) return new Map();
  const nets = new Set(header.pins.map((p) => p.net));
  const fits: Fits = new Map([
    [
      `header:${id}`,
      {
        score: 1,
        reason: `it is connector ${id}`,
        candidate: { kind: 'header', id, title: header.name ? `${id}, ${header.name}` : id, reasons: [], score: 0 },
      },
    ],
  ]);
  for (const c of chart.circuits.filter((x) => x.nets.some((n) => nets.has(n))))
    fits.set(`circuit:${c.number}`, {
      score: 1 - decisive,
      reason: `a line of it is on ${id}`,
      candidate: circuitCandidate(chart, c.number),
    });
  return fits;
}

/** Lines of that colour, either way round, and circuits where a wire of that colour was found instead. */
function wireFits(chart: Chart, readings: WireReading[]): Fits {
  const fits: Fits = new Map();
  const keep = (more: Fits) => {
    for (const [key, fit] of more) if ((fits.get(key)?.score ?? 0) < fit.score) fits.set(key, fit);
  };
  for (const r of readings) {
    const straight = joinColour(r.base, r.stripe);
    const turned = r.stripe ? joinColour(r.stripe, r.base) : straight;
    const sure = r.certain ? 1 : faded;
    for (const net of chart.nets.values()) {
      if (net.colour === straight) keep(netFits(chart, net.id, sure, `${straight} is ${netTitle(chart, net.id)}`));
      else if (r.stripe && net.colour === turned)
        keep(
          netFits(
            chart,
            net.id,
            r.ordered ? sure * faded : sure,
            `${turned} is ${netTitle(chart, net.id)}${r.ordered ? ', read the other way round' : ''}`,
          ),
        );
      else if (!r.stripe && net.colour.startsWith(`${r.base}/`))
        keep(netFits(chart, net.id, sure * 0.5, `${netTitle(chart, net.id)} is ${net.colour}`));
    }
    for (const d of chart.asFound) {
      if (d.wire !== straight && d.wire !== turned) continue;
      const pinNet = d.place.pin ? chart.pins.get(d.place.pin)?.net : undefined;
      const net = d.place.net ?? pinNet;
      const reason = `${d.wire} was found here on ${d.on}, where the manual says ${d.manual}`;
      if (d.place.switch && chart.circuit.has(d.place.switch))
        keep(new Map([[`circuit:${d.place.switch}`, { score: sure * faded, reason, candidate: circuitCandidate(chart, d.place.switch) }]]));
      else if (net) keep(netFits(chart, net, sure * faded, reason));
    }
  }
  return fits;
}

/** Names and places that fit the words. Words that fit nothing on this chart are handed back. */
function wordFits(chart: Chart, words: string[]): { fits: Fits; unread: string[] } {
  const things = [
    ...chart.circuits.map((c) => ({
      key: `circuit:${c.number}`,
      name: c.name,
      place: c.location,
      candidate: circuitCandidate(chart, c.number),
    })),
    ...chart.loads.map((l) => ({ key: `load:${l.number}`, name: l.name, place: '', candidate: loadCandidate(l) })),
    ...chart.lamps.map((l) => ({
      key: `lamp:${l.number}`,
      name: l.name,
      place: '',
      candidate: { kind: 'lamp' as const, id: l.number, title: `Lamp ${l.number} ${l.name}`, reasons: [], score: 0 },
    })),
  ];
  const placeWeight = 0.5; // a word of the location says less than one of the name
  const fitOf = (word: string, t: (typeof things)[number]) => {
    const name = bestFit(word, t.name);
    const place = bestFit(word, t.place);
    return name.score >= place.score * placeWeight
      ? { ...name, in: 'name' }
      : { score: place.score * placeWeight, as: place.as, in: 'place' };
  };
  const used = words.filter((w) => things.some((t) => fitOf(w, t).score > 0));
  const fits: Fits = new Map();
  for (const t of things) {
    const each = used.map((w) => ({ word: w, ...fitOf(w, t) })).filter((f) => f.score > 0);
    if (each.length === 0 || each.length < used.length) continue;
    const whole = each.length / Math.max(each.length, t.name.split(/\s+/).length); // "sling" fits "Left sling" by half
    const kind = t.candidate.kind === 'circuit' ? 1 : 0.8; // a name that a switch, its lamp and its coil share means the switch first
    const score = (each.reduce((sum, f) => sum + f.score, 0) / each.length) * (0.7 + 0.3 * whole) * kind;
    const reason = each
      .map((f) => (f.as === f.word ? `its ${f.in} has “${f.as}”` : `its ${f.in} has “${f.as}”, for “${f.word}”`))
      .join(', ');
    fits.set(t.key, { score, reason, candidate: t.candidate });
  }
  return { fits, unread: words.filter((w) => !used.includes(w)) };
}

function advice(chart: Chart, clue: Clue, unread: string[]): string[] {
  const lines: string[] = [];
  for (const pin of clue.pins) {
    const [header = ''] = pin.split('-');
    const known = chart.headers.get(header);
    lines.push(
      known
        ? `${header} has positions 1 to ${known.positions}.`
        : `There is no connector ${header} here; there are ${[...chart.headers.keys()].join(', ')}.`,
    );
  }
  for (const header of clue.headers)
    if (!chart.headers.has(header)) lines.push(`There is no connector ${header} here; there are ${[...chart.headers.keys()].join(', ')}.`);
  for (const wire of clue.wires)
    lines.push(
      `No line of this machine is ${wire.text}. An old wire fades: try its neighbours, such as red for orange or blue for violet.`,
    );
  const first = chart.circuits[0];
  if (unread.length > 0 && lines.length === 0) lines.push(`Nothing here is called or numbered ${unread.map((w) => `“${w}”`).join(', ')}.`);
  lines.push(
    `Try a number${first ? ` such as ${first.number}` : ''}, part of a name, a wire such as ${chart.design.nets[0]?.colour ?? 'grey/orange'}, or a pin such as ${[...chart.pins.keys()][0] ?? 'A3J4-7'}.`,
  );
  return lines;
}
