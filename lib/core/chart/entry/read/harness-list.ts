/** Lists of what stands behind each pin: a step a row, a splice with its branches as `2.1`, `2.2`. */
import { pinOf } from '../../names';
import { netKinds } from '../../schema';
import { type ChainRow, chainsOfRows } from '../files/chain-rows';
import type { Steps } from '../steps';
import type { Understood } from '../types';
import { type LineIndex, settleBoard } from './lines';
import type { ListRows } from './list-rows';
import { readPin } from './pins';
import type { Reading } from './reading';
import { newCollection, put, refuse } from './reading';
import { stepWords, wordIn } from './synonyms';

export function* readHarness(reading: Reading, list: ListRows, lines: LineIndex): Steps<Understood[]> {
  const to = newCollection(reading, lines);
  const taps = new Map<string, { row: number; steps: ChainRow[]; rows: number[] }>();
  let tap = '';
  for (const [i, row] of list.rows.entries()) {
    const text = list.text(row, 'pin');
    if (text !== '') tap = tapOf(row, text);
    if (i % 150 === 149) yield;
    if (tap === '') continue;
    const said = list.text(row, 'what');
    const what = said === '' ? 'switch' : wordIn(stepWords, said);
    if (what === null) {
      refuse(to, { row: row + 1, column: list.index('what') }, said, 'It is none of switch, load, lamp, splice, in-line, empty branch.');
      continue;
    }
    const chain = taps.get(tap) ?? { row: row + 1, steps: [], rows: [] };
    taps.set(tap, chain);
    const step = list.text(row, 'step') || String(chain.steps.length + 1);
    chain.steps.push({ chain: 1, tap, step, what, number: list.text(row, 'number') || list.text(row, 'name') });
    chain.rows.push(row + 1);
  }
  for (const [pin, { row, steps, rows }] of taps) {
    const { chains, wrong } = chainsOfRows(steps);
    for (const i of wrong) {
      const { step } = steps[i] ?? {};
      const at = { row: rows[i] ?? row, column: list.index('step') || list.index('pin') };
      refuse(to, at, `${pin} ${String(step)}`, 'This step has no place: the step before it, or its splice, is missing.');
    }
    const chain = chains[0];
    if (chain && chain.steps.length > 0 && wrong.length === 0)
      put(to, { row, column: list.index('pin') }, { what: 'chain', tap: pin, steps: chain.steps });
  }
  return to.rows;

  function tapOf(row: number, text: string): string {
    const at = { row: row + 1, column: list.index('pin') };
    const read = readPin(text, reading.chart.design);
    const pin = read && ('many' in read.pin ? settleBoard(reading, read.pin, netKinds, at, lines) : read.pin);
    if (!read) refuse(to, at, text, 'It names no header position: write it as A3J4-7.');
    return pin ? pinOf(pin.header, pin.position) : '';
  }
}
