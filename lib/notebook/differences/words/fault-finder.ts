import { lampSymptoms, loadSymptoms, stringSymptoms } from '@/lib/core/diagnosis';
import type { Model } from '@/lib/widgets/fault-finder/definition';
import { countWords, heldWords } from '@/lib/widgets/fault-finder/model/readings';
import type { Count, Held } from '@/lib/widgets/fault-finder/model/state';
import { abouts } from '@/lib/widgets/fault-finder/model/subjects';
import { field, madeBy, onOff, shown, type Teller, type Telling, tell } from '../telling';

const isRecord = (value: unknown): value is Record<string, unknown> => typeof value === 'object' && value !== null && !Array.isArray(value);
const isCount = (value: unknown): value is Count & { with?: unknown } =>
  isRecord(value) && typeof value.presses === 'number' && typeof value.missed === 'number';
const isHeld = (value: unknown): value is Held => isRecord(value) && Array.isArray(value.held) && Array.isArray(value.shown);

function pressed(value: unknown): string {
  if (!isCount(value)) return shown(value);
  const others = Array.isArray(value.with) && value.with.length > 0 ? `, brings ${value.with.join(', ')}` : '';
  return countWords(value) + others;
}
const reading =
  (label: string, say: (value: unknown) => string): Teller =>
  (before, after) => {
    if (after === undefined) return tell(`${label}: taken off, it was ${say(before)}`);
    return tell(before === undefined ? `${label}: ${say(after)}` : `${label}: ${say(after)}; before, ${say(before)}`);
  };
const labelled = (list: readonly { id: string; label: string }[]) => (value: unknown) =>
  list.find(({ id }) => id === value)?.label ?? shown(value);
const atRest = (value: unknown) => (value === 'active' ? 'on by itself' : value === 'inactive' ? 'quiet when left alone' : shown(value));

/** Switches and tests by the names that the finder has for them now. */
export function faultFinder(model: Model | null): Telling {
  const names = new Map(model?.readings.map(({ number, name }) => [number, [number, name].filter(Boolean).join(' ')]) ?? []);
  const things = new Map(model?.subject?.things.map(({ key, id, name }) => [key, [id, name].filter(Boolean).join(' ')]) ?? []);
  const before = new Map(model?.before.map(({ id, label }) => [id, label]) ?? []);
  const nameOf = (number: string) => names.get(number) ?? number;
  const symptom = (family: string, list: readonly { id: string; label: string }[]) => (name: string) =>
    reading(things.get(`${family}.${name}`) ?? name, labelled(list));
  return {
    keys: {
      about: field('What it is about', (value) => abouts.find(({ id }) => id === value)?.name.toLowerCase() ?? shown(value)),
      threes: onOff('Three faults at once are reckoned with', 'Three faults at once are left aside'),
    },
    families: {
      seen: (number) => reading(nameOf(number), pressed),
      ball: (number) => reading(`${nameOf(number)}, by ball`, pressed),
      rest: (number) => reading(nameOf(number), atRest),
      hold: () => reading('Held together', (value) => (isHeld(value) ? heldWords(value) : shown(value))),
      done: (id) => onOff(`${before.get(id) ?? id}: yes`, `${before.get(id) ?? id}: no`),
      test: (id) => (was, is) => {
        const answered = model?.answered.find(({ test }) => test === id);
        const title = answered?.title ?? id;
        if (is === undefined) return tell(`Answer taken back: ${title}`);
        const saw = isRecord(is) ? is.saw : is;
        const label = answered?.saw === saw ? answered?.label : String(saw);
        return tell(`${was === undefined ? 'Tested' : 'Tested again'}: ${title} ${label}${madeBy(is) && `,${madeBy(is)}`}`);
      },
      load: symptom('load', loadSymptoms),
      lamp: symptom('lamp', lampSymptoms),
      line: (name) => reading(things.get(`line.${name}`) ?? name.replace('.', ' '), labelled(lampSymptoms)),
      string: symptom('string', stringSymptoms),
      drop: (pin) => reading(`Across ${pin}`, (value) => `${shown(value)} mV`),
    },
  };
}
