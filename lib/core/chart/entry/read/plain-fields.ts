/** Fields that a cell says by itself, by kind of list: how each is read, and what is said when it cannot be. */
import type { Json } from '../../rows';
import type { Meaning } from '../types';
import type { ListRows } from './list-rows';
import { readFigure, readNature, readPitch, readPositions } from './quantities';
import { type Collected, isUnusedWord, refuse } from './reading';
import * as words from './synonyms';

interface Plain {
  meaning: Meaning;
  field: string;
  read(text: string): Json; // null: it cannot be read
  why: string;
}

const text = (meaning: Meaning, field: string): Plain => ({ meaning, field, read: (cell) => cell, why: '' });
const oneOf = <T extends Json>(meaning: Meaning, field: string, known: readonly (readonly [RegExp, T])[]): Plain => ({
  meaning,
  field,
  read: (cell) => words.wordIn(known, cell),
  why: `It is none of ${[...new Set(known.map(([, word]) => String(word)))].join(', ')}.`,
});
const figure = (meaning: Meaning, field: string, factor = 1): Plain => ({
  meaning,
  field,
  read: (cell) => {
    const value = readFigure(cell);
    return value === null ? null : value * factor;
  },
  why: 'It is no figure.',
});
const yesNo = (meaning: Meaning, field: string) => oneOf(meaning, field, words.yesWords);

const contact: readonly Plain[] = [
  text('location', 'location'),
  oneOf('device', 'device', words.deviceWords),
  oneOf('normally', 'normally', words.restWords),
  { meaning: 'also', field: 'also', read: (cell) => cell.split(/\s*[,;/]\s*/).filter(Boolean), why: '' },
  text('optoBoard', 'optoBoard'),
];

const face: readonly Plain[] = [
  text('name', 'name'),
  figure('positions', 'positions'),
  { meaning: 'pitch', field: 'pitchMm', read: readPitch, why: 'The pitches known are 2, 2.5, 2.54, 3.96 and 5.08 mm.' },
  { meaning: 'keys', field: 'keys', read: readPositions, why: 'Write key positions as figures: 3, or 3, 7; or none.' },
  oneOf('plating', 'plating', words.platingWords),
  oneOf('termination', 'termination', words.terminationWords),
  figure('pinRows', 'rows'),
  oneOf('pinNumbering', 'numbering', words.numberingWords),
  text('skipLetters', 'skipLetters'),
  yesNo('keyCounted', 'keyCounted'),
  figure('pinMm', 'pinMm'),
  oneOf('pinShape', 'pinShape', words.shapeWords),
  oneOf('lock', 'lock', words.lockWords),
];

const plainFields = {
  switches: [...contact, oneOf('diode', 'diode', words.diodeWords), yesNo('parallel', 'parallel')],
  direct: contact,
  lamps: [oneOf('lampKind', 'kind', words.lampWords)],
  loads: [
    figure('ohms', 'ohms'),
    figure('holdOhms', 'holdOhms'),
    oneOf('windings', 'windings', words.windingWords),
    oneOf('flyback', 'flyback', words.flybackWords),
    yesNo('pulsed', 'pulsed'),
    text('predriver', 'predriver'),
  ],
  strings: [
    text('name', 'name'),
    figure('lampCount', 'lamps'),
    text('fuse', 'fuse'),
    figure('volts', 'volts'),
    { meaning: 'volts', field: 'supply', read: (cell) => readNature(cell) ?? '', why: '' },
    { meaning: 'nature', field: 'supply', read: readNature, why: 'Write a.c. or d.c.' },
  ],
  pins: [
    figure('gauge', 'awg'),
    figure('insulation', 'insulationMm'),
    figure('strands', 'strands'),
    figure('strandGauge', 'strandAwg'),
    figure('strandMm', 'strandMm'),
    text('wireNote', 'note'),
  ],
  headers: face,
  inline: [...face, text('location', 'place'), oneOf('pinsOn', 'pinsOn', words.halfWords)],
  lines: [
    figure('gauge', 'awg'),
    figure('volts', 'volts'),
    { meaning: 'volts', field: 'supply', read: (cell) => readNature(cell) ?? '', why: '' },
    { meaning: 'nature', field: 'supply', read: readNature, why: 'Write a.c. or d.c.' },
    figure('amps', 'amps'),
    text('driver', 'part'),
    text('fuse', 'fuse'),
    text('fuseHolder', 'fuseHolder'),
    text('interlock', 'interlock'),
    figure('insulation', 'insulationMm'),
    figure('stored', 'storedMicrofarads'),
    figure('bleeder', 'bleederOhms'),
    figure('duty', 'duty'),
    figure('run', 'runMetres'),
  ],
} satisfies Record<string, readonly Plain[]>;

/** Meanings that say by themselves what a row has, by kind of list. */
export const plainMeanings = (kind: keyof typeof plainFields): Meaning[] => plainFields[kind].map(({ meaning }) => meaning);

/** The fields of a row; a cell that cannot be read is said and left out, so are words for nothing. The schema has still to check them. */
export function plainOf<T extends object>(to: Collected, list: ListRows, row: number, kind: keyof typeof plainFields): Partial<T> {
  const fields: Record<string, Json> = {};
  for (const { meaning, field, read, why } of plainFields[kind]) {
    const cell = list.text(row, meaning);
    if (cell === '' || (field !== 'keys' && field !== 'lock' && field !== 'flyback' && field !== 'normally' && isUnusedWord(cell)))
      continue;
    const value = read(cell);
    if (value === null) refuse(to, { row: row + 1, column: list.index(meaning) }, cell, why);
    else if (value !== '') fields[field] = value;
  }
  return fields as Partial<T>;
}
