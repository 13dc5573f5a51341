/** What a proof says in plain words: on the page, in the margin, in the customer's write-up. Every level is named on the spot. */
import type { Counting, Level, Proof, Quiet } from './proof';
import { type Condition, conditions } from './record';

const space = '\u00a0'; // a number and its sign stay on one line
const listed = (items: readonly string[], joint: 'and' | 'or' = 'and') =>
  items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} ${joint} ${items.at(-1)}`;
const presses = (n: number) => `${n} clean ${n === 1 ? 'press' : 'presses'}`;
const twoDigits = (value: number) => (value >= 10 ? Math.round(value) : Number(value.toPrecision(2)));

/** A share in per cent, whole from 1 up; never a flat 0 or 100 that was not counted. */
export function percent(share: number): string {
  const value = share * 100;
  if (share === 0 || share === 1) return `${value}${space}%`;
  if (value < 0.1) return `less than 0.1${space}%`;
  if (value > 99.9) return `more than 99.9${space}%`;
  if (value > 99) return `${value.toFixed(1)}${space}%`;
  return `${value < 1 ? twoDigits(value) : Math.round(value)}${space}%`;
}
/** "9 to 49 %". */
export const range = ({ low, high }: { low: number; high: number }): string =>
  `${percent(low).replace(`${space}%`, '')} to ${percent(high)}`;
export const levelWords = (level: Level): string => `${level}${space}%`;

const made = (of: readonly Condition[]) => of.map((c) => c.made);
const usedIn = ({ run }: Proof) => conditions.filter(({ id }) => run.clean[id] > 0);

/** What is still to press, in one sentence; empty once 99 % is reached. A verdict that is held back names its own gaps. */
export function nextWords(proof: Counting): string {
  const more = proof.next && `${proof.needed[proof.next] - proof.clean} more for ${levelWords(proof.next)}`;
  const lacking = proof.state !== 'counting' || proof.missing.length === 0 ? '' : `none ${listed(made(proof.missing), 'or')} yet`;
  if (proof.clean === 0 && more) return `${more}, spread over ${listed(conditions.map((c) => c.name.replace(/,.*/, '')))}.`;
  const said = [more, lacking].filter(Boolean).join('; ');
  return said && `${said.charAt(0).toUpperCase()}${said.slice(1)}.`;
}

/** The verdict on the page. */
export function verdict(proof: Proof): string {
  if (proof.state === 'empty') return 'Nothing was counted before the mend yet.';
  if (proof.state === 'refused') return proof.message;
  return proof.reached === null && proof.ended.length > 0 ? `It missed again after the mend. ${judgement(proof)}` : judgement(proof);
}

function judgement(proof: Counting): string {
  const { reached } = proof;
  if (reached === null) return `Not proved: ${presses(proof.clean)} of the ${proof.needed[95]} that ${levelWords(95)} asks for.`;
  const how = listed(made(usedIn(proof)));
  return proof.state === 'held'
    ? `Proved at ${levelWords(reached)} for presses made ${how} only: none ${listed(made(proof.missing), 'or')} yet.`
    : `Proved at ${levelWords(reached)}: ${presses(proof.clean)} in a row, ${how}.`;
}

/** What the count proves, a line each. */
export function provesLines(proof: Counting): string[] {
  const { before, since, clean } = proof;
  const tries = proof.ended.length + 1;
  return [
    `Before: ${before.missed} of ${before.presses} missed, so ${range(before)} (two-sided ${levelWords(95)})`,
    ...(since ? [`Since the mend: ${since.missed} of ${since.presses} missed, so ${range(since)} (two-sided ${levelWords(95)})`] : []),
    ...(clean === 0
      ? []
      : [
          `${since ? 'This run alone' : 'Now'}: at most ${percent(proof.upper)} can be left (one-sided ${levelWords(95)})`,
          `${clean} clean by chance${tries > 1 ? ` in one of ${tries} runs` : ''}, nothing mended: ${tries > 1 ? 'at most ' : ''}${percent(proof.byChance)}`,
          `Mended: ${percent(proof.mended)}, if it was as likely as not before the test`,
        ]),
  ];
}

/** Hours watched, in one sentence; empty without any. */
export function quietWords(quiet: Quiet | null): string {
  if (!quiet) return '';
  const hours = `${quiet.hours}${space}${quiet.hours === 1 ? 'hour' : 'hours'}`;
  if (quiet.perHour === null)
    return `It came by itself ${quiet.events === 1 ? 'once' : `${quiet.events} times`} in ${hours}: not gone. Count the hours anew from the last time.`;
  return `It never came by itself in ${hours}: fewer than ${twoDigits(quiet.perHour)} an hour, or once in ${twoDigits(1 / quiet.perHour)}${space}hours (one-sided ${levelWords(95)}).`;
}

/** The margin: the verdict, then what it rests on. */
export const marginLines = (proof: Proof): string[] => [
  verdict(proof),
  ...(proof.state === 'empty' || proof.state === 'refused' ? [] : provesLines(proof)),
  ...[quietWords(proof.quiet)].filter(Boolean),
];

/** The customer's write-up; empty while there is nothing to tell. */
export function customerWords(proof: Proof): string {
  const quiet = quietWords(proof.quiet);
  if (proof.state === 'empty' || proof.state === 'refused') return quiet;
  if (proof.clean === 0 && proof.ended.length === 0) return quiet;
  const { before, ended, run } = proof;
  const counts = conditions.flatMap((c) => (run.clean[c.id] > 0 ? [`${run.clean[c.id]} ${c.made}`] : []));
  const misses = ended.reduce((sum, past) => sum + past.misses.length, 0);
  return [
    `Before the mend ${before.missed} of ${before.presses} presses${proof.what ? ` of ${proof.what}` : ''} were missed.`,
    misses > 0 ? `After it ${misses === 1 ? 'one was' : `${misses} were`} missed again, and counting started anew.` : '',
    proof.clean > 0 ? `Since then ${presses(proof.clean)} in a row: ${listed(counts)}.` : '',
    proof.reached !== null ? `If nothing had been mended, that would happen by chance in about ${percent(proof.byChance)} of cases.` : '',
    judgement(proof),
    quiet,
  ]
    .filter(Boolean)
    .join(' ');
}

/** Stands beside the buttons: power is on while somebody presses (common practice, no source). */
export const pressCaution = {
  title: 'Power is on while you press',
  text: 'Coils move without warning and their supply can hurt. Press from above with a dry stick, no fingers or metal under the playfield. Inside the cabinet local rules and licensed hands come first.',
} as const;
