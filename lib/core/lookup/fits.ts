/** What each piece of a clue fits on a chart, how well, and why in words. */
import { connectorOf } from '../chart/inline';
import { boardOf, netTitle, pinOf, splitPin } from '../chart/names';
import { positionLabel } from '../chart/positions';
import type { Header } from '../chart/schema';
import type { Chart } from '../chart/types';
import { joinColour } from '../wire/format';
import { designatorOf, inLine, type Piece } from './clue';
import { perChart } from './per-chart';
import { keyOf, type Thing } from './things';
import { hear, vocabularyOf } from './vocabulary';
import { likeness, wordsOf } from './words';

export interface Fit {
  strength: number; // 0…1
  reason: string;
  named?: true; // by the thing's own name
}
/** By key of a thing. */
export type Fits = Map<string, Fit>;

const swapped = 0.7; // stripe and base the other way round: easily said, rarely meant
const unsure = 0.5; // a short form with several meanings fits none of them better than another
const half = 0.5; // one colour of two
const aged = 0.4; // a guess at a wire that faded
const inPlace = 0.6; // a word of the location says less than one of the name

export function fitsOf(chart: Chart, things: readonly Thing[], piece: Piece): Fits {
  switch (piece.is) {
    case 'pin':
      return headers(chart, piece).reduce<Fits>((fits, header) => {
        const pin = pinOf(header.id, piece.position);
        return piece.position >= 1 && piece.position <= header.positions ? keep(fits, keyOf('pin', pin), 1, pinInWords(chart, pin)) : fits;
      }, new Map());
    case 'lettered-pin':
      return headers(chart, piece).reduce<Fits>((fits, header) => {
        for (const position of lettered(header, piece.letter))
          keep(
            fits,
            keyOf('pin', pinOf(header.id, position)),
            1,
            `${piece.letter} is position ${position}: ${pinInWords(chart, pinOf(header.id, position))}`,
          );
        return fits;
      }, new Map());
    case 'header': {
      // A switch may be numbered X1, too.
      const fits = piece.board === inLine ? numberFits(chart, { number: piece.text, of: null }) : new Map();
      return headers(chart, piece).reduce<Fits>((all, { id }) => keep(all, keyOf('header', id), 1, `connector ${id}`), fits);
    }
    case 'board': {
      const fits = numberFits(chart, { number: piece.board, of: null });
      for (const { id } of chart.headers.values())
        if (boardOf(id) === piece.board) keep(fits, keyOf('header', id), 1, `connector ${id} is on ${piece.board}`);
      return fits;
    }
    case 'position':
      return [...chart.headers.values()].reduce<Fits>((fits, { id, positions }) => {
        const pin = pinOf(id, piece.position);
        return piece.position >= 1 && piece.position <= positions ? keep(fits, keyOf('pin', pin), 1, pinInWords(chart, pin)) : fits;
      }, new Map());
    case 'line': {
      const nets = [...chart.nets.values()].filter((net) => net.kind === piece.kind && net.number === piece.number);
      return nets.reduce<Fits>(
        (fits, net) => keep(fits, keyOf('line', net.id), 1, `${lower(netTitle(chart, net.id))} is ${net.colour}`),
        new Map(),
      );
    }
    case 'number':
      return numberFits(chart, piece);
    case 'wire':
      return wireFits(chart, things, piece.readings, piece.text);
    case 'kind':
      return things.reduce<Fits>((fits, t) => {
        if (t.kind === piece.kind || t.name.includes(piece.text)) keep(fits, t.key, 1, '');
        return fits;
      }, new Map());
    case 'word':
      return wordFits(chart, piece.word);
  }
}

/** Keeps the better of two fits of one thing. */
function keep(fits: Fits, key: string, strength: number, reason: string, named?: true): Fits {
  if ((fits.get(key)?.strength ?? 0) < strength) fits.set(key, { strength, reason, ...(named && { named }) });
  return fits;
}

/** Positions beside which that letter is printed; capitals and small letters sound alike. */
const lettered = (header: Omit<Header, 'beside'>, letter: string): number[] =>
  header.numbering === 'lettered'
    ? Array.from({ length: header.positions }, (_, i) => i + 1).filter((p) => positionLabel(header, p).toUpperCase() === letter)
    : [];

function pinInWords(chart: Chart, pin: string): string {
  const net = (chart.pins.get(pin) ?? chart.through.get(pin))?.net;
  if (net !== undefined) return `${pin} carries ${lower(netTitle(chart, net))}`;
  const at = splitPin(pin);
  return at && connectorOf(chart, at.header)?.keys.includes(at.position) ? `${pin} is the key` : `${pin} is not used`;
}

const headers = (chart: Chart, { board, connector }: { board: string | null; connector: number }): Omit<Header, 'beside'>[] =>
  [...chart.headers.values(), ...chart.inline.values()].filter(({ id }) =>
    board ? id === designatorOf({ board, connector }) : id.endsWith(designatorOf({ board, connector })),
  );

/** A bare number is a switch's first; a word of a name ("Lantern 1") or a lamp's comes after. */
function numberFits(chart: Chart, { number, of }: Pick<Extract<Piece, { is: 'number' }>, 'number' | 'of'>): Fits {
  const fits: Fits = new Map();
  const bare = (printed: string) => printed.toUpperCase().replace(/^0+(?=\d)/, '');
  const same = (printed: string) => bare(printed) === bare(number);
  const says = (printed: string) => `its number is ${printed}`;
  if (of === null || of === 'circuit') for (const id of chart.circuit.keys()) if (same(id)) keep(fits, keyOf('circuit', id), 1, says(id));
  if (of === null || of === 'load') {
    const loads = chart.loads.filter((l) => same(l.number) || (of === 'load' && same(l.number.replace(/^L/, ''))));
    for (const { number: id } of loads) keep(fits, keyOf('load', id), 1, says(id));
  }
  if (of === null || of === 'lamp') {
    for (const { number: id } of chart.lamps)
      if (same(id)) keep(fits, keyOf('lamp', id), of === 'lamp' ? 1 : half, `lamp ${id} has that number`);
  }
  if (of === null) {
    for (const net of chart.nets.values())
      if (net.part?.toUpperCase() === number) keep(fits, keyOf('line', net.id), 1, `${lower(netTitle(chart, net.id))} is at ${net.part}`);
    for (const [key, fit] of wordFits(chart, number.toLowerCase())) keep(fits, key, fit.strength, fit.reason, fit.named);
  }
  return fits;
}

function wordFits(chart: Chart, word: string): Fits {
  const fits: Fits = new Map();
  const heard = hear(vocabularyOf(chart), word);
  const says = (as: string) => (as === word ? `“${as}”` : `“${as}”, for “${word}”`);
  for (const { as, score, named } of heard) for (const t of named) keep(fits, t.key, score, `its name has ${says(as)}`, true);
  const byName = new Set(fits.keys());
  for (const { as, score, placed } of heard) {
    if (score < likeness.beginning) continue;
    for (const t of placed) if (!byName.has(t.key)) keep(fits, t.key, score * inPlace, `its place has ${says(as)}`);
  }
  return fits;
}

/** A wire somewhere on the chart. `before` and `after` make the reason, with what is to be said of the match between them. */
interface WireAt {
  key: string;
  colour: string;
  before: string;
  after: string;
}

/** Lines of a colour in the manual, pins with a wire of another colour than their line, and places where this machine has another instead. */
const wiresAt = perChart((chart): readonly WireAt[] => [
  ...[...chart.nets.values()].map((net) => ({
    key: keyOf('line', net.id),
    colour: net.colour,
    before: `${net.colour} is ${lower(netTitle(chart, net.id))}`,
    after: '',
  })),
  ...[...chart.pins.values()].flatMap(({ pin, net, wires }) =>
    wires
      .filter(({ colour }) => colour !== chart.nets.get(net)?.colour)
      .map(({ colour }) => ({ key: keyOf('pin', pin), colour, before: `a wire at ${pin} is ${colour}`, after: '' })),
  ),
  ...[...chart.through.values()].flatMap(({ pin, net, wires }) =>
    [...new Set([...wires.board, ...wires.far].map(({ colour }) => colour))]
      .filter((colour) => colour !== chart.nets.get(net)?.colour)
      .map((colour) => ({ key: keyOf('pin', pin), colour, before: `a wire at ${pin} is ${colour}`, after: '' })),
  ),
  ...chart.asFound.flatMap(({ place, wire, on, manual }) => {
    const key = placeKey(chart, place);
    return wire && key ? [{ key, colour: wire, before: `${wire} was found here on ${on}`, after: `; the manual says: ${manual}` }] : [];
  }),
]);

function wireFits(chart: Chart, things: readonly Thing[], readings: readonly Reading[], text: string): Fits {
  const fits: Fits = new Map();
  for (const reading of readings) {
    for (const { key, colour, before, after } of wiresAt(chart)) {
      const match = colourFit(reading, colour);
      if (match) keep(fits, key, match.strength, `${before}${match.note}${after}`);
    }
  }
  // A lone colour may also be a word of a name: "red target".
  if (readings.every((r) => r.stripe === undefined)) {
    const words = wordsOf(text);
    for (const t of things) for (const word of words) if (t.name.includes(word)) keep(fits, t.key, 1, `its name has “${word}”`, true);
  }
  return fits;
}

function placeKey(chart: Chart, place: { switch?: string; pin?: string; net?: string }): string | null {
  if (place.switch !== undefined && chart.circuit.has(place.switch)) return keyOf('circuit', place.switch);
  if (place.pin !== undefined && (chart.pins.has(place.pin) || chart.through.has(place.pin))) return keyOf('pin', place.pin);
  return place.net !== undefined && chart.nets.has(place.net) ? keyOf('line', place.net) : null;
}

type Reading = Extract<Piece, { is: 'wire' }>['readings'][number];

function colourFit(reading: Reading, colour: string): { strength: number; note: string } | null {
  const { base, stripe, ordered, certain, protectiveEarth, insteadOf } = reading;
  if (insteadOf !== undefined) {
    return colour === joinColour(base, stripe) ? { strength: aged, note: `; ${insteadOf} may be the faded ${colour}, a guess` } : null;
  }
  const likely = certain ? 1 : unsure;
  const earth = protectiveEarth ? '; GNYE is the mark of the protective earth' : '';
  if (stripe === undefined) {
    if (colour === base) return { strength: likely, note: '' };
    return colour.startsWith(`${base}/`) ? { strength: half, note: `, ${base} with a stripe` } : null;
  }
  if (colour === joinColour(base, stripe)) return { strength: likely, note: earth };
  if (colour !== joinColour(stripe, base)) return null;
  return ordered ? { strength: likely * swapped, note: ', with base and stripe the other way round' } : { strength: likely, note: earth };
}

const lower = (title: string) => title.charAt(0).toLowerCase() + title.slice(1);
