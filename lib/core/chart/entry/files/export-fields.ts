/** Which files a chart is exported in, and their columns. */
import type { Field } from './codec';

const text = (head: string, path: string): Field => ({ head, path, type: 'text' });
const number = (head: string, path: string): Field => ({ head, path, type: 'number' });
const yesNo = (head: string, path: string): Field => ({ head, path, type: 'yes-no' });
const numbers = (head: string, path: string): Field => ({ head, path, type: 'numbers' });
const texts = (head: string, path: string): Field => ({ head, path, type: 'texts' });

const contact = [
  text('Name', 'name'),
  text('Location', 'location'),
  text('Device', 'device'),
  text('Normally', 'normally'),
  texts('Also numbered', 'also'),
  text('Light fed by', 'emitterSupply'),
  text('Opto board', 'optoBoard'),
];
const wireFields = [
  text('Wire colour', 'colour'),
  number('Wire AWG', 'awg'),
  number('Strands', 'strands'),
  number('Strand AWG', 'strandAwg'),
  number('Strand mm', 'strandMm'),
  number('Insulation mm', 'insulationMm'),
  text('Wire note', 'note'),
];

const photoFields = [
  text('Picture', 'picture'),
  number('Width', 'width'),
  number('Height', 'height'),
  text('Caption', 'caption'),
  text('On', 'on'),
  text('By', 'by'),
];
const pinnedOn = [text('Id', 'id'), text('Photo', 'photo'), numbers('At', 'at')];
const pinnedThings = [text('Switch', 'switch'), text('Lamp', 'lamp'), text('Load', 'load'), text('Header', 'header')];

const faceFields = [
  number('Positions', 'positions'),
  number('Pitch mm', 'pitchMm'),
  numbers('Keys', 'keys'),
  text('Plating', 'plating'),
  text('Termination', 'termination'),
  yesNo('Key counted', 'keyCounted'),
  number('Rows', 'rows'),
  text('Numbering', 'numbering'),
  text('Left-out letters', 'skipLetters'),
  number('Pin mm', 'pinMm'),
  text('Pin shape', 'pinShape'),
  text('Lock', 'lock'),
];

/** Files of one row a record, by the list in the chart that they hold; `machine` and `design` have one row. */
export const files = {
  machine: [
    text('Format', 'format'),
    text('Id', 'id'),
    text('Name', 'name'),
    text('Unit', 'unit'),
    text('Sort', 'sort'),
    text('Serial', 'serial'),
    text('Since', 'since'),
    text('Board design', 'design'),
    text('Numbering order', 'numbering.order'),
    number('First number', 'numbering.first'),
    number('Digits', 'numbering.width'),
    number('First column digit', 'numbering.base.column'),
    number('First row digit', 'numbering.base.row'),
    number('Radix', 'numbering.radix'),
    text('Prefix', 'numbering.prefix'),
    yesNo('Base without digits', 'numbering.emptyBase'),
  ],
  switches: [
    number('Column', 'column'),
    number('Row', 'row'),
    text('Number', 'number'),
    ...contact,
    text('Diode', 'diode'),
    yesNo('Parallel', 'parallel'),
  ],
  direct: [text('Number', 'number'), text('Line', 'net'), ...contact],
  lamps: [number('Column', 'column'), number('Row', 'row'), text('Number', 'number'), text('Name', 'name'), text('Lamp type', 'kind')],
  loads: [
    text('Number', 'number'),
    text('Name', 'name'),
    text('Load type', 'kind'),
    text('Line', 'net'),
    text('Supply', 'supply'),
    text('Fuse', 'fuse'),
    number('Ohms', 'ohms'),
    number('Hold ohms', 'holdOhms'),
    number('Volts', 'volts'),
    text('Windings', 'windings'),
    text('Flyback', 'flyback'),
    yesNo('Pulsed', 'pulsed'),
    text('Predriver', 'predriver'),
  ],
  illumination: [
    text('Id', 'id'),
    text('Name', 'name'),
    text('Line', 'net'),
    text('Back line', 'back'),
    number('Lamps', 'lamps'),
    text('Fuse', 'fuse'),
    number('Volts', 'volts'),
    text('Supply', 'supply'),
    texts('Taps', 'taps'),
  ],
  asFound: [
    text('Id', 'id'),
    text('On', 'on'),
    text('By', 'by'),
    text('Since', 'since'),
    text('Switch', 'place.switch'),
    text('Pin', 'place.pin'),
    text('Line', 'place.net'),
    text('Manual', 'manual'),
    text('Here', 'here'),
    text('Wire', 'wire'),
    text('Why', 'why'),
    text('Photo', 'photo'),
    text('Withdrawn on', 'withdrawn.on'),
    text('Withdrawn by', 'withdrawn.by'),
    text('Withdrawn because', 'withdrawn.why'),
  ],
  keysAsFound: [
    text('Header', 'header'),
    numbers('Keys of the pins', 'pins'),
    numbers('Keys of the plug', 'plug'),
    text('On', 'on'),
    text('By', 'by'),
  ],
  inline: [text('In-line', 'id'), text('Name', 'name'), text('Place', 'place'), ...faceFields, text('Pins on', 'pinsOn')],
  /** One row a wire of either half: a position that says nothing of its wires has one row without a half. */
  inlinePins: [
    number('Entry', 'entry'),
    text('Pin', 'pin'),
    text('Line', 'net'),
    text('Half', 'half'),
    number('Wire no.', 'wire'),
    ...wireFields,
  ],
  photos: photoFields,
  pinned: [...pinnedOn, ...pinnedThings],
  design: [
    text('Format', 'format'),
    text('Id', 'id'),
    text('Name', 'name'),
    text('Stripe order', 'stripeOrder'),
    text('Polarity', 'matrix.polarity'),
    text('Idle', 'matrix.idle'),
    number('Row supply V', 'matrix.rowSupplyVolts'),
    number('Threshold ratio', 'matrix.thresholdRatio'),
    text('Strobe', 'matrix.strobe'),
    number('Row pull ohms', 'matrix.rowPullOhms'),
    number('Driver V', 'matrix.driverVolts'),
    text('Diode end', 'matrix.diodeEnd'),
    text('Float reads', 'matrix.floatReads'),
    text('Select', 'matrix.select'),
    text('Notes', 'notes'),
  ],
  boards: [text('Board', 'designator'), text('Name', 'name')],
  nets: [
    text('Line', 'id'),
    text('Kind', 'kind'),
    number('Number', 'number'),
    text('Name', 'name'),
    text('Wire colour', 'colour'),
    number('AWG', 'awg'),
    number('Insulation mm', 'insulationMm'),
    text('Board part', 'part'),
    number('Volts', 'volts'),
    text('Current', 'supply'),
    number('Amps', 'amps'),
    number('Stored µF', 'storedMicrofarads'),
    number('Bleeder ohms', 'bleederOhms'),
    text('Fuse', 'fuse'),
    text('Fuse holder', 'fuseHolder'),
    text('Interlock', 'interlock'),
    number('Duty', 'duty'),
    number('Run m', 'runMetres'),
  ],
  headers: [text('Header', 'id'), text('Name', 'name'), ...faceFields, texts('Beside', 'beside')],
  /** One row a wire: a pin that says nothing of its wires has one row without a wire number. */
  pins: [text('Header', 'header'), number('Position', 'position'), text('Line', 'net'), number('Wire no.', 'wire'), ...wireFields],
  boardPhotos: photoFields,
  boardPinned: [...pinnedOn, ...pinnedThings],
  /** One row a step: `2.1.3` is step 3 of branch 1 of the splice that is step 2. */
  chains: [number('Chain', 'chain'), text('Tap', 'tap'), text('Step', 'step'), text('What', 'what'), text('Number', 'number')],
} satisfies Record<string, Field[]>;

export type FileKey = keyof typeof files;
export const wirePaths = wireFields.map((field) => field.path);
/** Lists whose rows are one record each. */
export const machineLists = ['switches', 'direct', 'lamps', 'loads', 'illumination', 'asFound', 'keysAsFound'] as const;
/** Lists that a chart need not have: without one, the chart has no file of it. */
export const optionalLists = { machine: ['inline', 'photos', 'pinned'], design: ['boardPhotos', 'boardPinned'] } as const;
export const isOptional = (key: FileKey): boolean =>
  ([...optionalLists.machine, ...optionalLists.design, 'inlinePins'] as FileKey[]).includes(key);

/** Name of each file. */
export const fileNames: Readonly<Record<FileKey, string>> = {
  machine: 'machine.csv',
  switches: 'switches.csv',
  direct: 'direct-switches.csv',
  lamps: 'lamps.csv',
  loads: 'loads.csv',
  illumination: 'lamp-strings.csv',
  chains: 'harness.csv',
  asFound: 'as-found.csv',
  keysAsFound: 'keys-as-found.csv',
  inline: 'in-line-connectors.csv',
  inlinePins: 'in-line-pins.csv',
  photos: 'photos.csv',
  pinned: 'pinned.csv',
  design: 'board-design.csv',
  boards: 'boards.csv',
  nets: 'lines.csv',
  headers: 'headers.csv',
  pins: 'pins.csv',
  boardPhotos: 'board-photos.csv',
  boardPinned: 'board-pinned.csv',
};
/** The files of a board design; the others are the machine's. */
export const designFiles: ReadonlySet<FileKey> = new Set(['design', 'boards', 'nets', 'headers', 'pins', 'boardPhotos', 'boardPinned']);
