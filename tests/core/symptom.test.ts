/** Reading sentences about faults. The sentences are invented; what they mean is common practice, no source. */
import { describe, expect, test } from 'vitest';
import symptoms from '@/content/symptoms.json';
import thesaurus from '@/content/thesaurus.json';
import { makeLexicon } from '@/lib/core/symptom/lexicon';
import { likeSigns } from '@/lib/core/symptom/likeness';
import { readName, readSymptom } from '@/lib/core/symptom/read';
import { shownBy } from '@/lib/core/symptom/shows';
import { distance, Slips } from '@/lib/core/symptom/slips';
import { nameStems, stemOf } from '@/lib/core/symptom/tokens';
import type { Symptoms } from '@/lib/core/symptom/types';

const lexicon = makeLexicon(symptoms as Symptoms, thesaurus.groups, ['Left flipper', 'Nest 3', 'Weathervane', 'Drop left']);
const signs = (sentence: string) =>
  readSymptom(sentence, lexicon)
    .terms.filter((t) => ['does', 'extent', 'when', 'device', 'side'].includes(t.kind))
    .map((t) => `${t.without ? 'not ' : ''}${t.kind} ${t.value}${t.side ? `/${t.side}` : ''}${t.implied ? '?' : ''}`)
    .sort();

describe('a sentence is read as which device, what it does, how many, when', () => {
  test.each([
    ['left flap weak after half an hour', ['device flipper/left', 'does weak', 'extent one?', 'when warm']],
    ['spinner counts sometimes', ['device spinner', 'does sometimes', 'extent one?']],
    ["top lane isn't registering", ['device lane', 'does dead', 'extent one?']],
    ['the left flipper will not let go', ['device flipper/left', 'does always', 'extent one?']],
    ['none of the drop targets score', ['device drop-target', 'does dead', 'extent bank']],
    ['right sling fires on its own', ['device sling/right', 'does by-itself', 'extent one?']],
    ['coin slot counts two credits for one coin', ['device coin', 'does twice', 'extent one?']],
    ['the two upper targets are swapped', ['device target/upper', 'does wrong-one', 'extent several']],
    ['whole row of switches dead since we cleaned it', ['device switch', 'does dead', 'extent line', 'when after-repair']],
    ['transformer is too hot to touch', ['device supply', 'does hot', 'extent one?']],
    ['the machine reboots when both flippers fire', ['does resets', 'extent several', 'when hit']],
    ['fuse for the flippers keeps blowing', ['device flipper', 'does blows-fuse', 'extent one?']],
    ['left and right slings weak', ['device sling/left', 'device sling/right', 'does weak', 'extent several?']],
    [
      'whenever the left flipper is pressed the right sling fires',
      ['device flipper/left', 'device sling/right', 'does with-another', 'extent one?'], // one is at fault, whichever
    ],
    ['bumper works when the plug is wiggled', ['device bumper', 'does sometimes', 'extent one?', 'when touched']],
  ])('%s', (sentence, expected) => {
    expect(signs(sentence)).toEqual(expected);
  });

  test('a verb denied is dead; not always, every other time or one in three is sometimes', () => {
    for (const said of ['does not score', "doesn't score", 'never registers', 'refuses to fire', 'stopped working'])
      expect(signs(said)).toContain('does dead');
    for (const said of [
      'does not always score',
      'misses one in three',
      'scores every other time',
      'counts half the time',
      'only registers hard hits',
    ]) {
      expect(signs(said), said).toContain('does sometimes');
      expect(signs(said), said).not.toContain('does dead');
    }
  });

  test('what is not wanted is marked so, and names its opposite', () => {
    expect(signs('flipper weak, not the left one')).toEqual(['device flipper/right', 'does weak', 'extent one?', 'not side left']);
    expect(signs('spinner dead, not after a repair')).toContain('not when after-repair');
  });

  test('a small word does not make a phrase of another: "as well as" is one, "well" is not', () => {
    expect(signs('the lane scores as well as the bumper')).toContain('does with-another');
    expect(signs('plays well')).toEqual(['extent one?']);
    expect(signs('lamp on and off')).toEqual(['device lamp', 'does sometimes', 'extent one?']);
  });

  test('a phrase inside a longer one means nothing by itself', () => {
    expect(signs('coin switch on its own')).toEqual(['device coin', 'does by-itself', 'extent one?']);
    expect(signs('up kicker dead')).toEqual(['device lift', 'does dead', 'extent one?']);
  });

  test('names on the chart are known, as is what is put in quotes', () => {
    const { terms } = readSymptom('nest 3 "never notices"', lexicon);
    expect(terms.filter((t) => t.kind === 'name' || t.kind === 'quote').map((t) => `${t.kind} ${t.value}`)).toEqual([
      'quote never notic',
      'name nest 3',
    ]);
    expect(readName('Drop left', lexicon)).toMatchObject([{ kind: 'device', value: 'drop-target', side: 'left' }]);
    expect(signs('the apple never drops')).toContain('does dead');
    expect(signs('the apple never drops')).not.toContain('device drop-target');
    expect(signs('bonus insert lights sometimes')).toEqual(['device bonus-lamp', 'does sometimes', 'extent one?']);
  });

  test('words that no phrase has are read by what they share with those that are known', () => {
    const guessed = (sentence: string) => readSymptom(sentence, lexicon).terms.find((t) => t.kind === 'does');
    for (const [said, does] of [
      ['the spinner is lively one minute and quiet the next', 'sometimes'],
      ['the plug blackens and smokes', 'hot'],
      ['the gate gives a double tally', 'twice'],
    ]) {
      expect(guessed(said!), said).toMatchObject({ value: does });
      expect(guessed(said!)!.chance, said).toBeGreaterThan(0.3);
    }
    expect(guessed('the the of it is')).toBeUndefined();
  });

  test('a known fault leans the reading towards what it shows', () => {
    const of = (fault: string) => readSymptom('bumper odd', lexicon, shownBy(fault)).terms.find((t) => t.kind === 'does')?.value;
    expect([of('exchanged-wires'), of('diode-bypassed')]).toEqual(['wrong-one', 'with-another']);
  });

  test('a clause that is denied says nothing of the fault', () => {
    // what only describes a denied cause is neither meant nor denied by itself
    expect(signs('the left flipper comes and goes, not the dead column driver')).toEqual([
      'device flipper/left',
      'does sometimes',
      'extent one?',
    ]);
    expect(signs('several targets dead together, but not the column driver dead')).not.toContain('not extent line');
    // "light" is a verb as well, "return" too
    expect(signs('the spinner scores another, but not the house light')).toContain('not device illumination');
    expect(signs("the spinner shows under another number, it isn't the return lane")).toContain('not device inlane');
    expect(signs('the spinner counts twice, no the flipper')).toContain('extent one?');
    expect(signs('bumper runs hot, but not when the playfield shakes')).not.toContain('not when warm');
    expect(signs('bumper runs hot no since we soldered on it')).toContain('not when after-repair');
    expect(signs('no lights')).toEqual(['does dead', 'extent everything']);
    expect(signs('spinner counts twice, but not the flipper that is dead')).toEqual([
      'device spinner',
      'does twice',
      'extent one?',
      'not device flipper',
    ]);
    expect(signs('bumper weak, no tilt')).toContain('not device tilt');
    expect(signs('lamp dim other than after a repair')).toContain('not when after-repair');
    const { terms } = readSymptom('spinner dead, the comparator has been checked', lexicon);
    expect(terms.find((t) => t.kind === 'cause')).toMatchObject({ value: 'row-input', without: true });
  });

  test('fine when cold is faulty when warm, and the other way round', () => {
    expect(signs('spinner dead but fine when cold')).toContain('when warm');
    expect(signs('spinner dead, works fine once it is warm')).toContain('when cold');
    expect(signs('spinner not working when cold')).toContain('when cold');
  });

  test('the words tell which sort of circuit it is, where most of them agree', () => {
    const sort = (sentence: string) => readSymptom(sentence, lexicon).terms.find((t) => t.kind === 'sort')?.value;
    expect(['a line of bulbs is dark', 'the sling does not register', 'the sling does not kick'].map(sort)).toEqual([
      'lamp',
      'switch',
      'load',
    ]);
    expect(sort('everything is dead')).toBeUndefined();
    expect(sort('dead since a coil was replaced')).toBeUndefined();
  });

  test('nothing that is typed makes it fail', () => {
    for (const odd of ['', '   ', '"""', '-', 'ÄÖÜ ß 你好', '\u0000', 'not', 'not not not', 'x'.repeat(5000), 'left '.repeat(500)])
      expect(Array.isArray(readSymptom(odd, lexicon).terms)).toBe(true);
  });
});

test('every saying is found as what it says, unless a longer or another sign of its kind takes it', () => {
  for (const kind of ['does', 'extent', 'when'] as const)
    for (const { id, says } of symptoms[kind]) {
      const lost = says.filter((phrase) => !readSymptom(phrase, lexicon).terms.some((t) => t.kind === kind && t.value === id));
      expect(lost.length / says.length, `${kind} ${id}: ${lost.join('; ')}`).toBeLessThan(0.1);
    }
});

test('stems as in M. F. Porter, An algorithm for suffix stripping, Program 14(3), 1980 (from memory)', () => {
  const pairs = {
    caresses: 'caress',
    ponies: 'poni',
    cats: 'cat',
    agreed: 'agre',
    plastered: 'plaster',
    motoring: 'motor',
    hopping: 'hop',
    falling: 'fall',
    hissing: 'hiss',
    relational: 'relat',
    conditional: 'condit',
    electrical: 'electr',
    hopeful: 'hope',
    goodness: 'good',
    adjustment: 'adjust',
    replacement: 'replac',
  };
  for (const [word, stem] of Object.entries(pairs)) expect(stemOf(word), word).toBe(stem);
  expect(nameStems('The Left Flippers')).toBe('left flipper');
});

describe('slips of the finger', () => {
  test('distance counts an exchange of neighbours as one (Damerau 1964; "ca" to "abc" is 3 in this form, from memory)', () => {
    expect(distance('ca', 'abc', 5)).toBe(3);
    expect(distance('kitten', 'sitting', 5)).toBe(3); // the usual example of Levenshtein's distance
    expect(distance('spinenr', 'spinner', 2)).toBe(1);
    expect(distance('spinner', 'flipper', 2)).toBeGreaterThan(2);
  });
  const slips = new Slips();
  for (const word of ['spinner', 'flipper', 'target', 'intermittent', 'lamp']) slips.add({ word, weight: 1, fixes: 0 });
  slips.know('slipper');
  test.each([
    ['spiner', 'spinner'],
    ['fliper', 'flipper'],
    ['flippers', null],
    ['taregts', 'target'],
    ['intermitant', 'intermittent'],
    ['slipper', null],
    ['lmp', null],
    ['xyzzy', null],
  ])('%s is %s', (word, meant) => {
    expect(slips.meant(word)).toBe(meant);
  });
  test.each([
    ['sp', 'spinner'],
    ['flip', 'flipper'],
    ['flippers', null], // known as it is
    ['slipper', null], // let stand
    ['s', null], // says too little
    ['xy', null],
  ])('a word begun as %s is %s', (word, meant) => {
    expect(slips.begun(word)).toBe(meant);
  });
  test('of what begins alike, what is on more fixes, then the commoner', () => {
    const two = new Slips();
    two.add({ word: 'track', weight: 9, fixes: 0 });
    two.add({ word: 'trough', weight: 1, fixes: 2 });
    two.add({ word: 'trap', weight: 2, fixes: 2 });
    expect(two.begun('tr')).toBe('trap');
  });
});

test('a sign is most like itself, and likeness goes both ways', () => {
  for (const kind of ['does', 'extent', 'when'] as const)
    for (const { id } of symptoms[kind])
      for (const [other, value] of likeSigns(kind, id)) {
        expect(value).toBeLessThanOrEqual(1);
        if (other !== id) expect(likeSigns(kind, other)).toContainEqual([id, value]);
      }
});
