/** How a club speaks, learnt from invented fixes: words that no list has. */
import { describe, expect, test } from 'vitest';
import symptoms from '@/content/symptoms.json';
import { atOneGo } from '@/lib/core/symptom/guess';
import { makeLexicon } from '@/lib/core/symptom/lexicon';
import { readSymptom } from '@/lib/core/symptom/read';
import { learnSpeech, type Told } from '@/lib/core/symptom/speech';
import type { Symptoms } from '@/lib/core/symptom/types';

const lexicon = makeLexicon(symptoms as Symptoms, [], ['Weathervane', 'Left flipper', 'Upper lane', 'Start button', 'Quibble 3']);
const fix = (sentences: string[], circuits: string[], more: Partial<Told> = {}): Told => ({
  sentences,
  circuits,
  fault: undefined,
  extent: 'one',
  ...more,
});
const often = (n: number, told: Told) => Array.from({ length: n }, () => told);

const club = [
  ...often(15, fix(['Left flipper', 'the floofer is plonky.', 'It only works now and then.'], ['Left flipper'])),
  ...often(15, fix(['Start button', 'the zibber is snoozled, does nothing at all'], ['Start button'], { fault: 'broken-wire' })),
  ...often(15, fix(['Spinner', 'the spinner counts double'], ['Quibble 3'])),
];
const taught = { ...lexicon, ...atOneGo(learnSpeech(club, lexicon, symptoms as Symptoms)) };
const read = (sentence: string, by = taught) => readSymptom(sentence, by).terms;
const does = (sentence: string, by = taught) => read(sentence, by).find((t) => t.kind === 'does')?.value;
const device = (sentence: string, by = taught) => read(sentence, by).find((t) => t.kind === 'device')?.value;

describe('what fixes teach', () => {
  test('a word that stood beside known words for one behaviour is read as that behaviour', () => {
    expect(does('the upper lane is plonky', lexicon)).not.toBe('sometimes');
    expect(does('the upper lane is plonky')).toBe('sometimes');
    expect(does('upper lane snoozled')).toBe('dead');
  });
  test('a word for a device is known by the circuits that were at fault', () => {
    expect(device('the floofer again', lexicon)).toBeUndefined();
    expect(device('the floofer again')).toBe('flipper');
    expect(device('left floofer')).toBe('flipper');
    expect(read('left floofer').find((t) => t.kind === 'device')?.side).toBe('left');
  });
  test('a name on the chart that tells no device is the device that was written beside it', () => {
    expect(device('quibble 3 dead', lexicon)).toBeUndefined();
    expect(device('quibble 3 dead')).toBe('spinner');
  });
  test('a device that is named stays what it is', () => {
    expect(device('the upper lane, not the floofer')).toBe('lane');
    expect(read('the ramp floofer').filter((t) => t.kind === 'device')).toHaveLength(1);
  });
  test('phrases that everybody knows keep their meaning', () => {
    for (const { id, says } of (symptoms as Symptoms).does.slice(0, 4)) {
      const kept = says.slice(0, 60).filter((phrase) => read(phrase).some((t) => t.kind === 'does' && t.value === id));
      const before = says.slice(0, 60).filter((phrase) => read(phrase, lexicon).some((t) => t.kind === 'does' && t.value === id));
      expect(kept.length).toBeGreaterThanOrEqual(before.length - 2);
    }
  });
  test('the same fixes always teach the same', () => {
    const again = { ...lexicon, ...atOneGo(learnSpeech(club, lexicon, symptoms as Symptoms)) };
    expect(read('the plonky floofer of quibble 3', again)).toEqual(read('the plonky floofer of quibble 3'));
  });
});
