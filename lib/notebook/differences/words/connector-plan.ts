import type { HeaderSide, Model } from '@/lib/widgets/connector-plan/definition';
import { field, onOff, type Telling, ticked } from '../telling';

const sides: Record<HeaderSide, string> = { sound: 'sound', reflow: 'reflow its joints', replace: 'replace it' };
const side = (value: unknown) =>
  `“${typeof value === 'string' && Object.hasOwn(sides, value) ? sides[value as HeaderSide] : String(value)}”`;

/** Steps by their titles, as the plan has them now. */
export function connectorPlan(model: Model | null): Telling {
  const steps = new Map((model?.result?.ok ? model.result.plan.steps : []).map((step) => [step.id, step.title]));
  return {
    keys: {
      header: field('Header', String),
      headerSide: field('Header on the board', side),
      saveKey: onOff('The old key is saved', 'A new key is taken'),
    },
    families: {
      tick: (step) => ticked(steps.get(step) ?? step.replaceAll('-', ' ')),
      seat: (position) => ticked(`position ${position} seated`),
      tug: (position) => ticked(`position ${position} tugged`),
      pigtail: (position) => onOff(`Position ${position} put on a pigtail`, `Position ${position} without a pigtail`),
    },
  };
}
