/**
 * How a club speaks, learnt from its own fixes: what is recorded of a fix (its circuits, its fault, its other sentences) tells what the
 * words about it mean. So "the whirligig has gone to sleep" is read as a spinner that is dead, once the club has written it beside spinners.
 */
import { type Example, type Guess, learn } from './guess';
import { type Examples, type Guessed, type Lexicon, phraseExamples } from './lexicon';
import { type CloseReading, readClosely, readName } from './read';
import { anywhere } from './settle';
import { shownBy } from './shows';
import { nameStems, type Token } from './tokens';
import type { Symptoms } from './types';

/** What is known of one fix. */
export interface Told {
  /** Title and symptom, as written. */
  sentences: string[];
  fault: string | undefined;
  /** Names of its circuits, as on the chart. */
  circuits: string[];
  /** How many are concerned, by its circuits; null when none is recorded. */
  extent: string | null;
}
export type Speech = Pick<Lexicon, 'guess' | 'roles'>;

const rounds = [4, 12]; // what is learnt roughly makes the second reading of the same fixes surer
const doubt = 0.02;
const sharpness = 1.5;
const fewRoles = 2;
const surely = 0.6; // of the fixes about a name are about one device

/** Learns step by step; a thousand fixes take two or three seconds. `lexicon` is left as it is. */
export function* learnSpeech(fixes: readonly Told[], lexicon: Lexicon, symptoms: Symptoms): Generator<void, Speech> {
  const base = phraseExamples(symptoms);
  const ids: Record<Guessed, string[]> = {
    does: symptoms.does.map(({ id }) => id),
    extent: ['one', ...symptoms.extent.map(({ id }) => id)],
  };
  let taught = lexicon;
  for (const deep of rounds) {
    const own: Examples & { device: Example[] } = { does: [], extent: [], device: [] };
    const roles = new Votes();
    for (const fix of fixes) {
      const readings = fix.sentences.map((sentence) => readClosely(sentence, taught));
      const does = together(readings, shownBy(fix.fault));
      const devices = devicesOf(fix, lexicon);
      for (const { left } of readings) {
        if (does) own.does.push({ words: left.does, shares: does });
        if (fix.extent) own.extent.push({ words: left.extent, shares: new Map([[fix.extent, 1]]) });
        if (devices.length > 0 && devices.length <= fewRoles)
          own.device.push({ words: left.device, shares: new Map(devices.map((id) => [id, 1 / devices.length])) });
      }
      const [name, device] = nameAndDevice(fix, lexicon);
      if (name && device) roles.add(name, device, 1);
      yield;
    }
    const does = yield* learn(ids.does, [...base.does, ...own.does], deep);
    const extent = yield* learn(ids.extent, [...base.extent, ...own.extent], deep);
    taught = { ...lexicon, guess: { does, extent, device: company(own.device) }, roles: roles.clear() };
  }
  return { guess: taught.guess, roles: taught.roles };
}

/** All sentences of one fix say the same: what it does by all of them and by its fault. */
function together(readings: readonly CloseReading[], likely: (does: string) => number): ReadonlyMap<string, number> | null {
  const shares = new Map<string, number>();
  for (const { does } of readings) for (const [id, chance] of does) shares.set(id, (shares.get(id) ?? likely(id)) * (chance + doubt));
  const sharp = [...shares].map(([id, share]): [string, number] => [id, share ** sharpness]);
  const all = sharp.reduce((sum, [, share]) => sum + share, 0);
  return all > 0 ? new Map(sharp.map(([id, share]) => [id, share / all])) : null;
}

/** The devices that its circuits are called after. */
const devicesOf = ({ circuits }: Told, lexicon: Lexicon): string[] => [
  ...new Set(circuits.flatMap((name) => readName(name, lexicon).flatMap((t) => (t.kind === 'device' ? [t.value] : [])))),
];

/** The one name on the chart that a fix is about, and the one device that its words name. */
function nameAndDevice({ sentences, circuits }: Told, lexicon: Lexicon): [name: string | undefined, device: string | undefined] {
  const { terms } = readClosely(sentences.join('. '), lexicon);
  const names = new Set([...circuits.map(nameStems), ...terms.flatMap((t) => (t.kind === 'name' ? [t.value] : []))]);
  const devices = new Set(terms.flatMap((t) => (t.kind === 'device' && !t.without && !anywhere.has(t.value) ? [t.value] : [])));
  return names.size === 1 && devices.size === 1 ? [[...names][0], [...devices][0]] : [undefined, undefined];
}

/** How often each thing goes with each other thing. */
class Votes {
  private readonly votes = new Map<string, Map<string, number>>();

  add(of: string, id: string, share: number) {
    const own = this.votes.get(of) ?? new Map<string, number>();
    this.votes.set(of, own.set(id, (own.get(id) ?? 0) + share));
  }
  /** Of each thing the shares of 1, `shy` of them for what was not seen. */
  all(shy: number): Map<string, [id: string, share: number][]> {
    return new Map(
      [...this.votes].map(([of, own]) => {
        const all = [...own.values()].reduce((sum, share) => sum + share, shy);
        return [of, [...own].map(([id, share]): [string, number] => [id, share / all])];
      }),
    );
  }
  /** What most often goes with each, where that is clear. */
  clear(): Map<string, string> {
    return new Map([...this.all(0)].flatMap(([of, own]) => own.flatMap(([id, share]) => (share >= surely ? [[of, id]] : []))));
  }
}

const shyness = 2; // a word seen once with a device may be chance

/** By the words that keep company with each id; of all words and pairs of words the one that tells most decides. */
function company(examples: readonly Example[]): Guess {
  const votes = new Votes();
  for (const { words, shares } of examples)
    for (const gram of new Set(grams(words))) for (const [id, share] of shares ?? []) votes.add(gram, id, share);
  const shares = votes.all(shyness);
  return (words) => {
    const best = new Map<string, number>();
    for (const gram of grams(words)) for (const [id, share] of shares.get(gram) ?? []) best.set(id, Math.max(best.get(id) ?? 0, share));
    return [...best].map(([id, chance]) => ({ id, chance })).sort((a, b) => b.chance - a.chance);
  };
}

function grams(words: readonly Token[]): string[] {
  const stems = words.filter(({ filler }) => !filler).map(({ stem }) => stem);
  return stems.flatMap((stem, k) => (k === 0 ? [stem] : [stem, `${stems[k - 1]} ${stem}`]));
}
