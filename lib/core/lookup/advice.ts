/** What to say when a clue leads nowhere: what could not be read, and what to try. */
import type { Chart } from '../chart/types';
import { formatWire } from '../wire/format';
import { designatorOf, type Piece } from './clue';
import type { Candidate } from './types';

export function adviceFor(chart: Chart, unread: readonly Piece[]): string[] {
  const lines = [...new Set(unread.filter((piece) => piece.is !== 'word').map((piece) => missing(chart, piece)))];
  const words = unread.flatMap((piece) => (piece.is === 'word' ? [`“${piece.text}”`] : []));
  if (words.length > 0) lines.push(`Nothing here is called ${words.join(' or ')}.`);
  return [...lines, examples(chart)];
}

function missing(chart: Chart, piece: Piece): string {
  switch (piece.is) {
    case 'pin': {
      const known = [...chart.headers.values(), ...chart.inline.values()].filter(({ id }) => id === designatorOf(piece));
      return known[0]
        ? `${known[0].id} has positions 1 to ${known[0].positions}, so there is no “${piece.text}”.`
        : noHeader(chart, piece.text);
    }
    case 'lettered-pin': {
      const known = [...chart.headers.values()].find(({ id }) => id === designatorOf(piece));
      if (!known) return noHeader(chart, piece.text);
      return known.numbering === 'lettered'
        ? `${known.id} has no letter ${piece.letter}; letters may be left out, so look at the board.`
        : `${known.id} is numbered, 1 to ${known.positions}, so there is no “${piece.text}”.`;
    }
    case 'header':
      return noHeader(chart, piece.text);
    case 'board':
      return `There is no board “${piece.board}” with a connector here; the connectors are ${[...chart.headers.keys()].join(', ')}.`;
    case 'position':
      return `No connector here has a position ${piece.position}.`;
    case 'line': {
      const numbers = [...chart.nets.values()].filter((net) => net.kind === piece.kind).flatMap((net) => net.number ?? []);
      const words = piece.kind.replace('switch-', '').replace('-', ' ');
      return numbers.length > 0
        ? `There is no ${words} ${piece.number} here; they run from ${Math.min(...numbers)} to ${Math.max(...numbers)}.`
        : `This chart has no ${words} lines.`;
    }
    case 'number':
      return `No ${piece.of === 'lamp' ? 'lamp' : piece.of === 'load' ? 'coil or other load' : 'switch'} here is numbered ${piece.number}.`;
    case 'wire': {
      if (piece.readings.some((r) => r.protectiveEarth)) {
        return 'GNYE is the mark of the protective earth (IEC 60757): never a signal, and no line of this chart.';
      }
      const read = [...new Set(piece.readings.map((r) => formatWire(r.base, r.stripe, 'names')))].join(' or ');
      return `No wire in this chart is ${read}. Old colours fade: orange, red and brown pass for each other, as do violet and blue, grey and white, yellow and white.`;
    }
    case 'kind':
    case 'word':
      return `Nothing here is called “${piece.text}”.`;
  }
}

const noHeader = (chart: Chart, text: string) =>
  `There is no “${text}” here; the connectors are ${[...chart.headers.keys(), ...chart.inline.keys()].join(', ')}.`;

function examples(chart: Chart): string {
  const circuit = chart.circuits[0];
  const row = [...chart.nets.values()].find((net) => net.kind === 'switch-row');
  const pin = row && chart.taps.get(row.id)?.[0]?.pin;
  const tries = [
    circuit && `a number such as ${circuit.number}`,
    circuit && `part of a name such as “${circuit.name}”`,
    row && `a wire such as ${row.colour}`,
    pin && `a pin such as ${pin}`,
  ];
  return `Try ${tries.filter(Boolean).join(', ') || 'the chart itself: it has no switch and no line yet'}.`;
}

const mostGuesses = 3;

/** Says which wires of the chart the clue's may be, and where to compare them. */
export const guessAdvice = (chart: Chart, guesses: readonly Candidate[]): string[] =>
  guesses.slice(0, mostGuesses).map(({ kind, id, title, reasons }) => {
    const pins = kind === 'line' ? (chart.taps.get(id) ?? []).map((tap) => tap.pin).join(', ') : '';
    return `${title}${pins ? ` at ${pins}` : ''}: ${reasons.join('; ')}. Compare it at the connector.`;
  });
