/** Headings of charts, in the words people use. A heading is held against them without marks, figures and case. */
import type { Meaning } from '../types';

/** The longest fitting phrase wins; `in`: only in tables that have a heading of that meaning too. */
export const headings: Readonly<Partial<Record<Meaning, readonly string[]>>> = {
  number: [
    'no',
    'nr',
    'num',
    'number',
    'switch no',
    'switch number',
    'sw no',
    'sw',
    'lamp no',
    'lamp number',
    'load no',
    'load number',
    'coil no',
    'coil number',
    'solenoid no',
    'solenoid number',
    'sol',
    'id',
    'ref',
    'matrix no',
    'printed number',
  ],
  name: [
    'name',
    'title',
    'description',
    'switch',
    'switch name',
    'lamp',
    'lamp name',
    'coil',
    'coil name',
    'load',
    'load name',
    'solenoid',
    'solenoid name',
    'function',
    'designation',
    'label',
  ],
  column: ['column', 'col', 'columns', 'strobe', 'drive', 'column no', 'column number', 'col no', 'switch column', 'lamp column'],
  row: ['row', 'rows', 'return', 'row no', 'row number', 'switch row', 'lamp row'],
  columnWire: [
    'column wire',
    'col wire',
    'column colour',
    'column color',
    'col colour',
    'col color',
    'column wire colour',
    'column wire color',
    'strobe wire',
    'strobe colour',
    'strobe color',
    'drive wire',
  ],
  rowWire: ['row wire', 'row colour', 'row color', 'row wire colour', 'row wire color', 'return wire colour', 'return wire color'],
  columnPin: ['column pin', 'col pin', 'column connector', 'col connector', 'column conn', 'col conn', 'strobe pin', 'column tap'],
  rowPin: ['row pin', 'row connector', 'row conn', 'return pin', 'row tap'],
  line: ['line', 'net', 'signal', 'circuit', 'line no', 'carries', 'input', 'line id'],
  wire: [
    'wire',
    'wires',
    'colour',
    'color',
    'wire colour',
    'wire color',
    'wire colours',
    'wire colors',
    'lead',
    'lead colour',
    'drive wire colour',
    'driver wire',
    'return wire',
    'cable',
    'colour code',
    'color code',
  ],
  pin: ['pin', 'pins', 'connector pin', 'conn pin', 'connection', 'conn', 'driver pin', 'drive pin', 'tap', 'from', 'plug pin'],
  pinsOn: ['pins on', 'half with pins', 'half with the pins', 'pins are on', 'male half'],
  half: ['half', 'which half'],
  farWire: [
    'wire of the far half',
    'far wire',
    'wire beyond',
    'wire away from the boards',
    'wires of the far half',
    'far colour',
    'far color',
  ],
  header: ['header', 'connector', 'plug', 'jack', 'housing', 'socket', 'connector no', 'in line', 'in line connector', 'cable plug'],
  position: ['position', 'pos', 'pin no', 'pin number', 'way', 'cavity', 'contact no'],
  goesTo: ['goes to', 'to', 'destination', 'behind', 'goes', 'feeds', 'serves'],
  device: [
    'device',
    'type of switch',
    'switch type',
    'actuator',
    'part',
    'part type',
    'make',
    'sort of switch',
    'contact type',
    'device type',
  ],
  normally: ['normally', 'at rest', 'rest', 'normal state', 'normal', 'no nc', 'rest state', 'position at rest', 'normal position'],
  location: ['location', 'place', 'where', 'found at', 'mounted', 'area', 'remarks', 'notes', 'note'],
  diode: ['diode', 'diode at', 'diode place'],
  driver: [
    'driver',
    'transistor',
    'driven by',
    'drive transistor',
    'driver transistor',
    'read by',
    'chip',
    'device on board',
    'drive part',
    'board part',
  ],
  supply: ['supply', 'power', 'fed by', 'feed', 'supply line', 'source', 'common', 'power line', 'supply wire'],
  fuse: ['fuse', 'fuse no', 'fused', 'fuse rating'],
  loadKind: ['load type', 'coil type', 'kind', 'type', 'sort', 'class', 'type of load'],
  lampKind: ['lamp type', 'bulb', 'bulb type', 'type of lamp'],
  ohms: ['ohms', 'ohm', 'resistance', 'coil resistance', 'winding'],
  volts: ['volts', 'volt', 'voltage', 'v'],
  amps: ['amps', 'amp', 'current', 'ampere', 'a'],
  gauge: ['gauge', 'awg', 'wire gauge', 'wire awg', 'size', 'wire size'],
  positions: ['positions', 'ways', 'pin count', 'number of positions', 'circuits', 'poles', 'number of pins'],
  pitch: ['pitch', 'spacing', 'pitch mm', 'spacing mm'],
  keys: ['key', 'keys', 'key position', 'key positions', 'key pin', 'keyed at', 'index', 'key pins'],
  plating: ['plating', 'finish', 'contact finish', 'plated'],
  termination: ['termination', 'terminal type', 'terminated', 'contact style'],
  pinRows: ['rows of pins', 'pin rows'],
  pinNumbering: ['numbering', 'numbered', 'pin numbering'],
  skipLetters: ['left out letters', 'letters left out', 'skipped letters'],
  keyCounted: ['key counted', 'key numbered'],
  pinMm: ['pin mm', 'pin size', 'pin side', 'pin diameter'],
  pinShape: ['pin shape', 'shape of pins'],
  lock: ['lock', 'locking', 'latch'],
  parallel: ['parallel', 'shares its cell'],
  also: ['also numbered', 'also', 'other numbers', 'other number', 'second number'],
  optoBoard: ['opto board', 'optical board', 'sensor board', 'amplifier board', 'receiver board'],
  emitterSupply: ['light fed by', 'emitter supply', 'emitter fed by', 'emitter', 'light supply', 'led supply'],
  back: ['back line', 'back', 'return line', 'comes back by'],
  lampCount: ['lamps', 'number of lamps', 'lamp count', 'bulbs', 'number of bulbs', 'how many lamps'],
  taps: ['taps', 'feeding pins', 'fed at'],
  step: ['step', 'step no', 'place in chain'],
  what: ['what', 'kind of step', 'what stands there'],
  holdOhms: ['hold ohms', 'hold resistance', 'holding ohms', 'hold winding'],
  windings: ['windings', 'double wound', 'number of windings'],
  flyback: ['flyback', 'flyback diode', 'coil diode', 'diode of the coil'],
  pulsed: ['pulsed', 'held by pulses'],
  predriver: ['predriver', 'pre driver', 'predriver transistor', 'pre driver transistor'],
  nature: ['a c or d c', 'ac dc', 'ac or dc', 'nature', 'current type'],
  fuseHolder: ['fuse holder', 'fuse place', 'where the fuse is'],
  interlock: ['interlock', 'interlocked by', 'door switch'],
  insulation: ['insulation mm', 'insulation', 'insulation diameter', 'outer diameter'],
  strands: ['strands', 'number of strands'],
  strandGauge: ['strand awg', 'strand gauge'],
  strandMm: ['strand mm', 'strand diameter'],
  wireNote: ['wire note', 'note on the wire'],
  stored: ['stored µf', 'stored uf', 'capacitor', 'reservoir', 'capacitance'],
  bleeder: ['bleeder ohms', 'bleeder', 'bleed resistor'],
  duty: ['duty', 'duty cycle'],
  run: ['run m', 'run', 'length m', 'run length', 'length'],
  unused: ['wire no', 'wire number', 'chain', 'entry', 'format'],
};

/** A heading as it is compared: lower case, words only. */
export const headingKey = (text: string): string =>
  text
    .toLowerCase()
    .replace(/[.#№:()[\]/\\_–-]/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();

const known = new Map<string, Meaning>(
  Object.entries(headings).flatMap(([meaning, words]) => words.map((word) => [headingKey(word), meaning as Meaning] as const)),
);

/** What a heading says by itself; null when it is none that is known. A sign such as `#` is a number, `Ω` ohms. */
export function meaningOfHeading(text: string): { meaning: Meaning; sure: number } | null {
  const signs: Readonly<Record<string, Meaning>> = { '#': 'number', '№': 'number', Ω: 'ohms', '°': 'unused' };
  const sign = signs[text.trim()];
  if (sign) return { meaning: sign, sure: 0.95 };
  if (text.length > 60) return null;
  const key = headingKey(text);
  const exact = known.get(key);
  if (exact) return { meaning: exact, sure: 0.95 };
  const plural = known.get(key.replace(/s$/, ''));
  if (plural) return { meaning: plural, sure: 0.85 };
  const words = key.split(' ');
  for (let length = Math.min(words.length, 4); length > 0; length -= 1) {
    for (let i = words.length - length; i >= 0; i -= 1) {
      const found = known.get(words.slice(i, i + length).join(' '));
      // One word among many, such as "a" or "to", says little.
      if (found && (length > 1 || (words[i] ?? '').length > 2) && words.length <= length + 2)
        return { meaning: found, sure: length > 1 ? 0.8 : 0.6 };
    }
  }
  return null;
}

/** Words for what a switch is, as they stand in switch lists. */
export const deviceWords: readonly (readonly [RegExp, 'leaf' | 'microswitch' | 'reed' | 'opto' | 'other'])[] = [
  [/\b(leaf|blade|blades|leaves|stack)\b/i, 'leaf'],
  [/\b(micro ?-?switch|micro|snap|lever switch)\b/i, 'microswitch'],
  [/\b(reed|magnetic)\b/i, 'reed'],
  [/\b(opto|optical|photo|beam|light barrier|ir)\b/i, 'opto'],
  [/^other$|^(button|membrane|mercury|hall|eddy|proximity)\b/i, 'other'],
];
export const restWords: readonly (readonly [RegExp, 'open' | 'closed'])[] = [
  [/^(n\.?\s?o\.?|open|normally open|make|no)$/i, 'open'],
  [/^(n\.?\s?c\.?|closed|normally closed|break|shut)$/i, 'closed'],
];
export const diodeWords: readonly (readonly [RegExp, 'at the switch' | 'on a strip' | 'on the board'])[] = [
  [/switch|lug|local/i, 'at the switch'],
  [/strip|terminal/i, 'on a strip'],
  [/board/i, 'on the board'],
];
export const loadWords: readonly (readonly [RegExp, 'coil' | 'flasher' | 'motor' | 'relay'])[] = [
  [/\b(coil|solenoid|magnet|sol)\b/i, 'coil'],
  [/\b(flasher|flash|flash lamp|lamp)\b/i, 'flasher'],
  [/\bmotor\b/i, 'motor'],
  [/\brelay\b/i, 'relay'],
];
export const lampWords: readonly (readonly [RegExp, 'tungsten' | 'led'])[] = [
  [/\bled\b/i, 'led'],
  [/\b(bulb|tungsten|filament|incandescent)\b/i, 'tungsten'],
];
export const halfWords: readonly (readonly [RegExp, 'board' | 'far'])[] = [
  [/\b(boards?|near|cabinet|head)\b/i, 'board'],
  [/\b(far|away|beyond|playfield|device)\b/i, 'far'],
];
export const platingWords: readonly (readonly [RegExp, 'tin' | 'gold'])[] = [
  [/\b(tin|tinned)\b/i, 'tin'],
  [/\b(gold|gilt)\b/i, 'gold'],
];
export const terminationWords: readonly (readonly [RegExp, 'insulation-displacement' | 'crimp' | 'soldered'])[] = [
  [/\b(idc|insulation.?displacement|pressed)\b/i, 'insulation-displacement'],
  [/\bcrimp(ed)?\b/i, 'crimp'],
  [/\bsolder(ed)?\b/i, 'soldered'],
];

export const yesWords: readonly (readonly [RegExp, boolean])[] = [
  [/^(yes|y|true|x|✓|1)$/i, true],
  [/^(no|n|false|0)$/i, false],
];
export const windingWords: readonly (readonly [RegExp, 'single' | 'double'])[] = [
  [/\b(double|two|2|dual)\b/i, 'double'],
  [/\b(single|one|1)\b/i, 'single'],
];
export const flybackWords: readonly (readonly [RegExp, 'at the coil' | 'on the board' | 'none'])[] = [
  [/coil|lug/i, 'at the coil'],
  [/board/i, 'on the board'],
  [/^(none|no|-)$/i, 'none'],
];
export const numberingWords: readonly (readonly [RegExp, 'along' | 'zigzag' | 'per-row' | 'lettered'])[] = [
  [/zig.?zag|odd/i, 'zigzag'],
  [/per.?row|row by row/i, 'per-row'],
  [/letter/i, 'lettered'],
  [/along|in order|sequen/i, 'along'],
];
export const shapeWords: readonly (readonly [RegExp, 'square' | 'round'])[] = [
  [/square/i, 'square'],
  [/round/i, 'round'],
];
export const lockWords: readonly (readonly [RegExp, 'friction' | 'shroud' | 'none'])[] = [
  [/friction|ramp|wall/i, 'friction'],
  [/shroud|box/i, 'shroud'],
  [/^(none|no|-)$/i, 'none'],
];
export const stepWords: readonly (readonly [RegExp, 'switch' | 'load' | 'lamp' | 'splice' | 'in-line' | 'empty branch'])[] = [
  [/^(empty branch|nothing|open end)$/i, 'empty branch'],
  [/\b(splice|joint)\b/i, 'splice'],
  [/\bin.?line\b/i, 'in-line'],
  [/\b(switch|sw)\b/i, 'switch'],
  [/\b(load|coil|solenoid|flasher|motor|relay)\b/i, 'load'],
  [/\b(lamp|bulb)\b/i, 'lamp'],
];

/** The value that a word stands for; null when it is none of them. */
export const wordIn = <T>(words: readonly (readonly [RegExp, T])[], text: string): T | null =>
  words.find(([form]) => form.test(text.trim()))?.[1] ?? null;
