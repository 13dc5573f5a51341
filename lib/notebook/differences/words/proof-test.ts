import { conditionOf } from '@/lib/core/proof';
import { counted, field, madeBy, type Telling, tell } from '../telling';

const condition = (value: unknown) => conditionOf(value)?.name ?? String(value);
/** `<run>.<condition>.<id>` of a miss. */
const missed = (name: string) => conditionOf(name.split('.')[1])?.name;

export const proofTest: Telling = {
  keys: {
    what: field('Switch', String),
    condition: field('Condition', condition),
    'before.missed': field('Missed before the mend'),
    'before.presses': field('Presses before the mend'),
    'hours.run': field('Hours watched'),
    'hours.events': field('Times it came'),
  },
  families: {
    miss: (name) => (_, after) => {
      const under = missed(name) ? `, ${missed(name)}` : '';
      return tell(after === undefined ? `A miss taken back${under}` : `A miss${under}, seen${madeBy(after)}`.replace(/, seen$/, ''));
    },
  },
  counters: { run: counted('press', 'presses') },
};
