/** A question as items that the index can look up. Pure. */
import { likeSigns } from '@/lib/core/symptom/likeness';
import { type Reading, type SignKind, signKinds, type Term } from '@/lib/core/symptom/types';
import { type Group, groups, type Values } from './score';
import type { QueryPart } from './types';

/** What is looked for, best first; `weight` counts within its group. */
export interface Item {
  group: Group;
  weight: number;
  /** Features with the value that each gives. */
  options: [feature: string, value: number][];
  /** How a result says that it fits, by feature; the item's own words otherwise. */
  why: string;
  /** Words of the trade that mean the same. */
  also?: string[];
  /** Fixes that have it are not wanted. */
  without: boolean;
}
export interface Question {
  items: Item[];
  /** Runs of stems that must occur. */
  quotes: string[][];
  asked: Values;
}

const bySynonym = 0.7;
const otherSide = 0.55;
const unsaidSide = 0.8;
const wideDevice = 0.3; // of a whole line the devices that are named are examples
const unknownSort = 0.6;
const explainedWord = 0.35; // a word that a device or a clue already stands for
const impliedExtent = 1.2;
const manyExtent = 2.5; // that a whole line is out says more than which switch was noticed
const leastWords = 0.25; // what words still say when signs, devices and clues have said it all

/** `rarity` of a word: 0 for one that every fix has. */
export function askWith(reading: Reading, clues: readonly QueryPart[], rarity: (feature: string) => number): Question {
  const { terms } = reading;
  const named = clues.filter((c) => c.as === 'machine').map((c) => c.value);
  const designs = clues.filter((c) => c.as === 'board-design').map((c) => c.value);
  const devices = terms.filter((t) => t.kind === 'device' || t.kind === 'name' || t.kind === 'side');
  const items: Item[] = [
    ...deviceItems(
      devices,
      terms.filter((t) => t.kind === 'concept'),
    ),
    ...terms.flatMap((t) => signItem(t)),
    ...wordItems(terms, rarity),
    ...clues.flatMap((c) => clueItem(c, named, designs)),
  ];
  const wanted = items.filter((i) => !i.without);
  const asked = Object.fromEntries(groups.map((g) => [g, wanted.some((i) => i.group === g) ? 1 : 0])) as Values;
  asked.words = asked.words && leastWords + (1 - leastWords) * unexplained(terms, rarity);
  asked.sort = Math.max(0, ...terms.filter((t) => t.kind === 'sort').map((t) => t.chance ?? 1));
  const extent = terms.find((t) => t.kind === 'extent' && !t.without);
  if (extent && !extent.implied && extent.value !== 'several') asked.extent = manyExtent;
  if (extent?.value === 'line' || extent?.value === 'everything') asked.device *= wideDevice;
  if (extent?.implied) asked.extent = impliedExtent * (wanted.some((i) => i.group === 'device' || i.group === 'does') ? 1 : 0);
  return { items, asked, quotes: terms.filter((t) => t.kind === 'quote').map((t) => t.value.split(' ')) };
}

/** Another word of the trade for the same device. */
const sameThing = 0.5;

function deviceItems(terms: Term[], concepts: Term[]): Item[] {
  const meaning = (t: Term): Item['options'] =>
    concepts.filter((c) => t.text.toLowerCase().includes(c.text.toLowerCase())).map((c) => [`c:${c.value}`, sameThing]);
  const names = terms.filter((t) => t.kind === 'name');
  const within = (t: Term) =>
    names.find((n) => n.text.toLowerCase().includes(t.text.toLowerCase()) && Boolean(n.without) === Boolean(t.without));
  const items = terms
    .filter((t) => t.kind === 'device')
    .map((t): Item => {
      const name = within(t);
      const options: Item['options'] = t.side
        ? [
            [`d:${t.value}/${t.side}`, name ? 0.95 : 1],
            [`d:${t.value}/-`, unsaidSide],
            [`d:${t.value}`, otherSide],
          ]
        : [[`d:${t.value}`, name ? 0.75 : 1]];
      if (name) options.unshift([`n:${name.value}`, 1]);
      return {
        group: 'device',
        weight: t.chance ?? 1,
        options,
        why: name?.text ?? [t.side, t.label].filter(Boolean).join(' '),
        without: t.without ?? false,
      };
    });
  const used = new Set(terms.filter((t) => t.kind === 'device').map((t) => within(t)));
  for (const name of names)
    if (!used.has(name))
      items.push({
        group: 'device',
        weight: 1,
        options: [[`n:${name.value}`, 1], ...meaning(name)],
        why: name.text,
        without: name.without ?? false,
      });
  for (const side of terms.filter((t) => t.kind === 'side'))
    items.push({
      group: 'device',
      weight: items.length > 0 ? 0.4 : 0.6,
      options: [[`side:${side.value}`, 1]],
      why: side.label,
      without: side.without ?? false,
    });
  return items;
}

function signItem(t: Term): Item[] {
  if (t.kind === 'cause')
    return [{ group: 'cause', weight: 1, options: [[`fault:${t.value}`, 1]], why: `it was the ${t.label}`, without: t.without ?? false }];
  if (!signKinds.includes(t.kind as SignKind)) return [];
  const options = likeSigns(t.kind as SignKind, t.value).map(([id, value]): [string, number] => [
    `${t.kind}:${id}`,
    value * (t.chance ?? 1),
  ]);
  if (t.kind === 'sort') options.push(['sort:-', unknownSort]);
  return [
    {
      group: t.kind as SignKind,
      weight: 1,
      options: t.without ? options.slice(0, 1) : options,
      why: t.implied ? '' : t.label,
      without: t.without ?? false,
    },
  ];
}

const said = (text: string) => text.toLowerCase().split(/\s+/);
const explaining = new Set<Term['kind']>(['device', 'name', 'does', 'extent', 'when', 'cause']);
const explainedWords = (terms: Term[]) => new Set(terms.filter((t) => explaining.has(t.kind)).flatMap((t) => said(t.text)));

/** How much of the words no sign, device or name stands for, by their rarity. */
function unexplained(terms: Term[], rarity: (feature: string) => number): number {
  const explained = explainedWords(terms);
  const words = terms
    .filter((t) => t.kind === 'word')
    .map((t) => ({ weight: rarity(`w:${t.value}`), open: said(t.text).some((word) => !explained.has(word)) }));
  const sum = (of: typeof words) => of.reduce((all, { weight }) => all + weight, 0);
  return words.length === 0 ? 0 : sum(words.filter((w) => w.open)) / (sum(words) || 1);
}

function wordItems(terms: Term[], rarity: (feature: string) => number): Item[] {
  const concepts = terms.filter((t) => t.kind === 'concept');
  const explained = explainedWords(terms);
  // "except after twenty minutes of play": a fix that says "played" for another reason is not meant, once the rest is understood.
  const understood = terms.some((t) => t.without && explaining.has(t.kind));
  return terms
    .filter((t) => t.kind === 'word' && !(t.without && understood))
    .map((t): Item => {
      const group = concepts.find((c) => said(c.text).includes(t.text.toLowerCase()));
      const options: Item['options'] = [[`w:${t.value}`, 1]];
      if (group) options.push([`c:${group.value}`, bySynonym]);
      const rare = Math.max(...options.map(([feature]) => rarity(feature)));
      const share = said(t.text).every((word) => explained.has(word)) ? explainedWord : 1;
      const why = `says “${(group?.text ?? t.text).toLowerCase()}”`;
      return { group: 'words', weight: rare * share, options, why, without: t.without ?? false, ...(group?.also && { also: group.also }) };
    })
    .filter((item) => item.weight > 0);
}

function clueItem({ as, value, label, synonyms }: QueryPart, machines: string[], designs: string[]): Item[] {
  const item = (group: Group, weight: number, options: Item['options'], why: string): Item => ({
    group,
    weight,
    options,
    why,
    without: false,
  });
  const here = (kind: string): [string][] =>
    machines.length > 0 ? machines.map((m) => [`${kind}:${value}@${m}`]) : [[`${kind}:${value}`]];
  const own = (kind: string, by: number): [string, number][] => here(kind).map(([feature]) => [feature, by]);
  if (as === 'machine') return [item('machine', 1, [[`machine:${value}`, 1]], `on ${label}`)];
  if (as === 'board-design') return [item('machine', 0.6, [[`board-design:${value}`, 1]], `same board design ${label}`)];
  if (as === 'pin') return [item('clue', 1, pinOptions(value, designs), `touches ${value}`)];
  if (as === 'header') return [item('clue', 0.8, [[`header:${value}`, 1]], `touches connector ${value}`)];
  if (as === 'wire')
    return [
      item(
        'clue',
        1,
        [value, ...synonyms].flatMap((pair, n) => wireOptions(pair, n === 0 ? 1 : 0.8)),
        `${value} is on this repair`,
      ),
    ];
  if (as === 'circuit') return [item('clue', 1, [...own('circuit', 1), ...own('sibling', 0.15)], `is about ${label}`)];
  return [];
}

/** What was at fault at the pin before what only passes it; on the board design of a named machine before the same name on another. */
function pinOptions(pin: string, designs: string[]): Item['options'] {
  const found = (at: string, by: number): Item['options'] => [
    [`place:${pin}${at}`, by],
    [`pin:${pin}${at}`, 0.6 * by],
    [`header:${pin.replace(/-.*/, '')}${at}`, 0.2 * by],
  ];
  return designs.length > 0 ? [...designs.flatMap((design) => found(`@${design}`, 1)), ...found('', 0.35)] : found('', 1);
}

/** A wire at the fault before one that the circuit has elsewhere; read the other way round, it is another wire more often than not. */
const wireOptions = (pair: string, by: number): Item['options'] => {
  const turned = pair.split('/').reverse().join('/');
  return [
    [`at-wire:${pair}`, by],
    [`wire:${pair}`, 0.75 * by],
    [`at-wire:${turned}`, 0.6 * by],
    [`wire:${turned}`, 0.45 * by],
  ];
};
