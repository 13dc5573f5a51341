/** Puts a situation into somebody's words. */
import type { Random } from './random';
import type { Device, Extent, Kind, Role, Side, Situation, Words } from './types';

export const plural = (noun: string): string => (/(s|x|ch|sh)$/.test(noun) ? `${noun}es` : noun.endsWith('GI') ? `${noun}s` : `${noun}s`);

/** One device as a customer names it: "the left flap". */
export function deviceWords({ role, side }: { role: Role; side: Side | null }, words: Words, r: Random): string {
  return `${side ? `${side} ` : ''}${r.pick(words.devices[role])}`;
}

/** What the sentence is about: one device, or how many at once. */
export function subject(s: { role?: Role; side: Side | null; kind: Kind; extent: Extent }, words: Words, r: Random): string {
  if (s.extent === 'one') return `the ${s.role ? deviceWords({ role: s.role, side: s.side }, words, r) : r.pick(words.things[s.kind])}`;
  const thing = s.extent === 'bank' && s.role ? r.pick(words.devices[s.role]) : '';
  const things = thing ? plural(thing) : r.pick(words.things[s.kind]);
  return r
    .pick(words.extent[s.extent])
    .replace('{things}', things)
    .replace('{thing}', thing || things.replace(/s$/, ''));
}

export function sentence(
  s: Omit<Situation, 'machine' | 'design' | 'cause'>,
  words: Words,
  r: Random,
  about = subject(s, words, r),
): string {
  const does = r.pick(words.behaviour[s.kind][s.behaviour] ?? []);
  return `${about} ${does}${s.when ? ` ${r.pick(words.when[s.when])}` : ''}`;
}

/** A device as it is printed on the chart. */
export const printed = (device: Device): string => (device.number ? `${device.name} (${device.number})` : device.name);
export const upper = (s: string): string => s.charAt(0).toUpperCase() + s.slice(1);
