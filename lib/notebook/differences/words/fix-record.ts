import { faultName } from '@/lib/core/diagnosis/classes';
import { outcomes } from '@/lib/widgets/fix-record/definition';
import { field, number, onOff, type Telling, tell, text } from '../telling';

const named = (value: unknown) => `“${faultName(String(value))}”`;
const outcome = (value: unknown) => `“${outcomes.find(({ id }) => id === value)?.name ?? String(value)}”`;

export const fixRecord: Telling = {
  keys: {
    symptom: text('Symptom'),
    cause: field('Cause', named),
    place: field('Place'),
    remedy: text('Remedy'),
    proof: text('Proof'),
    minutes: field('Minutes on the bench'),
    outcome: field('Outcome', outcome),
    on: field('Day', String),
    by: field('Signed by', String),
    watch: text('What to watch'),
  },
  families: {
    circuit: (number) => onOff(`Circuit ${number} added`, `Circuit ${number} taken off`),
    part: (id) => (before, after) => {
      const [was, is] = [number(before), number(after)];
      if (was === is) return [];
      if (was === 0) return tell(`Part added: ${is} × ${id}`);
      return tell(is === 0 ? `Part taken off: ${was} × ${id}` : `Part ${id}: ${is} instead of ${was}`);
    },
  },
};
