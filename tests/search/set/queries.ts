/** Questions to the notebook, each made from a repair that is there, in other words than that repair's. */
import type { Fleet } from './charts';
import type { DesignOf } from './grade';
import { type Random, random } from './random';
import { deviceWords, sentence, subject, upper } from './saying';
import type { Asked, Query, QueryKind, Repair, Situation, Words } from './types';

const kinds: QueryKind[] = ['customer', 'customer', 'customer', 'device', 'device', 'clue', 'mixed', 'mixed', 'typos', 'negation'];

export function makeQueries(count: number, repairs: readonly Repair[], fleet: Fleet, words: Words, seed: number): Query[] {
  const r = random(seed);
  const possible = repairs.filter((repair) => repair.situation !== null && repair.outcome !== 'recurred');
  const seen = new Set<string>();
  const queries: Query[] = [];
  while (queries.length < count) {
    const kind = kinds[queries.length % kinds.length] as QueryKind;
    const query = make(kind, r.pick(possible), fleet, words, r);
    if (!query || seen.has(query.text)) continue;
    seen.add(query.text);
    const { kind: circuitKind, ...rest } = query.asked;
    const asked = circuitKind && saysKind(query, words) ? query.asked : rest;
    const text = kind === 'typos' ? mistype(query.text, r) : query.text;
    queries.push({ id: `q${queries.length}`, kind, text, asked });
  }
  return queries;
}

export const designs = (fleet: Fleet): DesignOf => {
  const of = new Map(fleet.machines.map((m) => [m.chart.id, m.chart.design]));
  return (machine) => of.get(machine) ?? '';
};

const bare = (phrase: string): string => phrase.replace(/^(is|has|gets|does) /, '');

/** "The left sling is dead" may be its switch or its coil: the question means either, unless its words fit one kind of circuit only. */
function saysKind({ text, asked: { kind, role, behaviour } }: Pick<Query, 'text' | 'asked'>, words: Words): boolean {
  if (!kind || !role) return true;
  if (!behaviour) return false;
  return (Object.keys(words.behaviour) as (typeof kind)[])
    .filter((other) => other !== kind)
    .every((other) => (words.behaviour[other][behaviour] ?? []).every((phrase) => !text.includes(bare(phrase))));
}

type Made = Pick<Query, 'text' | 'asked'> | null;

function make(kind: QueryKind, repair: Repair, fleet: Fleet, words: Words, r: Random): Made {
  const s = repair.situation as Situation;
  const title = fleet.machines.find((m) => m.chart.id === s.machine)?.title ?? '';
  const asked = fromSituation(s);
  if (kind === 'customer' || kind === 'typos') return customer(s, asked, title, words, r);
  if (kind === 'device') return deviceAndBehaviour(repair, asked, title, words, r);
  if (kind === 'clue') return clue(repair, title, r);
  if (kind === 'mixed') return mixed(repair, asked, title, words, r);
  return negated(s, asked, words, r);
}

/** A question means the device only where its words name it. */
function fromSituation(s: Situation): Asked {
  const wide = s.extent === 'line' || s.extent === 'everything';
  return {
    kind: s.kind,
    ...(!wide && { role: s.role }),
    ...(s.side && { side: s.side }),
    behaviour: s.behaviour,
    extent: s.extent,
    ...(s.when && { when: s.when }),
  };
}

function customer(s: Situation, asked: Asked, title: string, words: Words, r: Random): Made {
  const text = r
    .pick(['{it}', '{it}', 'customer says {it}', '{it}, any idea?', 'what if {it}?', 'why {it}'])
    .replace('{it}', sentence(s, words, r));
  return r.chance(0.25) ? { text: `${text} (${title})`, asked: { ...asked, machine: s.machine } } : { text, asked };
}

/** As typed with dirty thumbs: the device and what it does, no sentence. */
function deviceAndBehaviour(repair: Repair, asked: Asked, title: string, words: Words, r: Random): Made {
  const s = repair.situation as Situation;
  const about =
    s.extent === 'one' && r.chance(0.35) ? (repair.devices[0]?.name.toLowerCase() ?? '') : subject(s, words, r).replace(/^the /, '');
  const { when: _when, ...rest } = asked;
  const does = bare(r.pick(words.behaviour[s.kind][s.behaviour] ?? []));
  const text = `${about} ${does}`;
  return r.chance(0.35) ? { text: `${title.toLowerCase()} ${text}`, asked: { ...rest, machine: s.machine } } : { text, asked: rest };
}

const shorts: Record<string, string> = {
  green: 'grn',
  white: 'wht',
  violet: 'vio',
  blue: 'blu',
  yellow: 'yel',
  grey: 'gry',
  brown: 'brn',
  red: 'red',
  orange: 'org',
  black: 'blk',
}; // prettier-ignore

function wireWords(colour: string, r: Random): string {
  const [base = '', stripe = ''] = colour.split('/');
  return r.pick([
    `${base}-${stripe}`,
    `${base}/${stripe}`,
    `${base} ${stripe} wire`,
    `${base} with ${stripe} stripe`,
    `${shorts[base]}-${shorts[stripe]}`,
    `${shorts[base]?.toUpperCase()}/${shorts[stripe]?.toUpperCase()}`,
  ]);
}
const pinWords = (pin: string, r: Random): string =>
  r.pick([pin, pin.toLowerCase(), pin.replace('J', 'P'), pin.replace('-', ' pin '), `${pin.split('-')[0]} ${pin.split('-')[1]}`]);

function clue(repair: Repair, title: string, r: Random): Made {
  const s = repair.situation as Situation;
  const line = repair.atFault ?? repair.devices[0]?.lines[0];
  if (!line) return null;
  const x = r.next();
  const machine = { machine: s.machine };
  if (x < 0.4) {
    const text = wireWords(line.colour, r);
    return r.chance(0.5)
      ? { text: `${text} ${title.toLowerCase()}`, asked: { ...machine, clue: { wire: line.colour } } }
      : { text, asked: { clue: { wire: line.colour } } };
  }
  if (x < 0.7) {
    const text = pinWords(line.pin, r);
    return r.chance(0.4)
      ? { text: `${text} ${title}`, asked: { ...machine, clue: { pin: line.pin } } }
      : { text, asked: { clue: { pin: line.pin } } };
  }
  const number = r.pick(repair.circuits.length > 0 ? repair.circuits : ['']);
  if (!/^\d\d$/.test(number)) return null;
  const text = `${r.pick(['sw', 'switch', 'sw', 'no.'])} ${number} ${title.toLowerCase()}`;
  return { text, asked: { ...machine, clue: { number } } };
}

/** Words with a machine and a clue or a cause. The words decide; a wire with them narrows to repairs on that line by their cause. */
function mixed(repair: Repair, asked: Asked, title: string, words: Words, r: Random): Made {
  const s = repair.situation as Situation;
  const cause = r.pick(words.causes[s.cause] ?? []);
  const about = subject(s, words, r).replace(/^the /, '');
  const does = r.pick(words.behaviour[s.kind][s.behaviour] ?? []);
  const { when: _when, ...rest } = asked;
  return r.pick<Made>([
    { text: `${title} ${about} ${does} ${cause}`, asked: { ...rest, machine: s.machine, cause: s.cause } },
    {
      text: `${cause} ${about}`,
      asked: {
        kind: s.kind,
        ...(asked.role && { role: asked.role }),
        ...(asked.side && { side: asked.side }),
        ...(asked.extent !== 'one' && { extent: s.extent }),
        cause: s.cause,
      },
    },
    { text: `${about} ${does} ${title}`, asked: { ...rest, machine: s.machine } },
    s.when ? { text: `${title}: ${upper(about)} ${does} ${r.pick(words.when[s.when])}`, asked: { ...asked, machine: s.machine } } : null,
  ]);
}

/** What is asked for, and what is said not to be it: a cause that was seen to, another device, a circumstance. */
function negated(s: Situation, asked: Asked, words: Words, r: Random): Made {
  const { when: _when, ...rest } = asked;
  const said = sentence({ ...s, when: null }, words, r);
  const x = r.next();
  const causes = (Object.keys(words.causes) as NonNullable<Asked['cause']>[]).filter((c) => c !== s.cause);
  const when = (Object.keys(words.when) as NonNullable<Asked['when']>[]).filter((w) => w !== s.when);
  const not = (it: string) => r.pick(words.not).replace('{it}', it);
  if (x < 0.5) {
    const cause = r.pick(causes);
    return { text: `${said}, ${not(`the ${r.pick(words.causes[cause] ?? [])}`)}`, asked: { ...rest, not: { cause } } };
  }
  if (x < 0.75) {
    const then = r.pick(when);
    return { text: `${said} ${not(r.pick(words.when[then]))}`, asked: { ...rest, not: { when: then } } };
  }
  const roles = (Object.keys(words.devices) as NonNullable<Asked['role']>[]).filter((role) => role !== s.role);
  const role = r.pick(roles);
  return { text: `${said}, ${not(`the ${deviceWords({ role, side: null }, words, r)}`)}`, asked: { ...rest, not: { role } } };
}

/** One slip in a long word: a letter dropped, doubled, exchanged with the next or mistaken. */
function mistype(text: string, r: Random): string {
  const tokens = text.split(' ');
  const long = tokens.flatMap((w, i) => (/^[a-z]{5,}$/.test(w) ? [i] : []));
  for (const at of r.shuffle(long).slice(0, 2)) {
    const w = tokens[at] as string;
    const i = 1 + r.below(w.length - 2);
    tokens[at] = r.pick([
      w.slice(0, i) + w.slice(i + 1),
      w.slice(0, i) + w.charAt(i) + w.slice(i),
      w.slice(0, i) + w.charAt(i + 1) + w.charAt(i) + w.slice(i + 2),
      `${w.slice(0, i)}${r.pick([...'aeioustrnl'])}${w.slice(i + 1)}`,
    ]);
  }
  return tokens.join(' ');
}
