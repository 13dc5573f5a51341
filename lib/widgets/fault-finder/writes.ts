/** What each control writes. One place, so that a button, a field and a test's answer agree. */
import type { Test } from '@/lib/core/diagnosis';
import { newId } from '@/lib/notebook/ids';
import type { WidgetActions } from '../definition';
import type { Reading } from './model/readings';
import { type Count, type HandCount, mostPresses } from './model/state';

export type Found = 'registers' | 'some' | 'never' | 'stuck';
export const usualPresses = 3;

type Known = Pick<Reading, 'hand' | 'others' | 'rest'>;
const unseen: Known = { hand: null, others: [], rest: null };

const withOthers = (count: Count, others: readonly string[]): HandCount => ({
  presses: count.presses,
  missed: count.missed,
  ...(others.length > 0 && { with: [...others] }),
});

/** One tap: how the switch behaved. How often it was pressed stays, where somebody has counted. */
export function writeFound(act: WidgetActions, number: string, found: Found, { hand, others, rest }: Known = unseen) {
  if (found === 'stuck') {
    if (rest === 'active') act.remove(`rest.${number}`);
    else act.set(`rest.${number}`, 'active');
    return;
  }
  const presses = Math.max(hand?.presses ?? 0, hand?.presses && found !== 'some' ? 1 : usualPresses);
  const some = hand && hand.missed > 0 && hand.missed < presses ? hand.missed : 1;
  const missed = found === 'registers' ? 0 : found === 'never' ? presses : some;
  act.set(`seen.${number}`, withOthers({ presses, missed }, others));
  if (rest === 'active') act.remove(`rest.${number}`);
}

const inRange = (n: number, least: number, most: number) => Math.min(most, Math.max(least, Math.round(n)));

/** Counts as typed or stepped: never more missed than pressed. */
export function writeCount(act: WidgetActions, key: string, { presses, missed }: Count, others: readonly string[] = []) {
  const pressed = inRange(presses, 0, mostPresses);
  act.set(key, withOthers({ presses: pressed, missed: inRange(missed, 0, pressed) }, others));
}

/** Another number that comes up with it. A switch that nobody counted yet is taken to have been pressed three times. */
export function writeOthers(act: WidgetActions, number: string, hand: Count | null, others: readonly string[]) {
  act.set(`seen.${number}`, withOthers(hand && hand.presses > 0 ? hand : { presses: usualPresses, missed: 0 }, others));
}

/** Everything that was seen of one switch. */
export function removeReading(act: WidgetActions, { number, hand, ball, rest }: Reading) {
  if (hand) act.remove(`seen.${number}`);
  if (ball) act.remove(`ball.${number}`);
  if (rest) act.remove(`rest.${number}`);
}

export function writeHold(act: WidgetActions, held: readonly string[], shown: readonly string[]) {
  act.set(`hold.${newId()}`, { held: [...held], shown: [...shown] });
}

const pressTest = /^(press|ball) (\S+) (\d+)$/;
/** The answer to a test. Presses are added to those that were counted; "some" counts one miss, to be set right in the list. */
export function writeAnswer(act: WidgetActions, test: Pick<Test, 'id'>, outcome: string, readings: readonly Reading[]) {
  const [, how, number = '', times] = pressTest.exec(test.id) ?? [];
  if (!how) {
    act.tick(`test.${test.id}`, true, { saw: outcome });
    return;
  }
  const before = readings.find((r) => r.number === number);
  const count = (how === 'ball' ? before?.ball : before?.hand) ?? { presses: 0, missed: 0 };
  const more = Number(times);
  const missed = count.missed + (outcome === 'all' ? 0 : outcome === 'none' ? more : 1);
  writeCount(
    act,
    `${how === 'ball' ? 'ball' : 'seen'}.${number}`,
    { presses: count.presses + more, missed },
    how === 'ball' ? [] : before?.others,
  );
}
