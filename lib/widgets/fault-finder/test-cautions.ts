/** What must be said before a test is begun. Mains and charge come from the club's cautions; presses have their own. */
import texts from '@/content/cautions.json';
import type { Test } from '@/lib/core/diagnosis';
import { pressCaution } from '@/lib/core/proof';

export interface TestCaution {
  title: string;
  text: string;
}

/** For whoever measures, looks or clips a lead while the machine is on (common practice, no source). */
const liveCaution: TestCaution = {
  title: 'Power is on while you test',
  text: 'Coils move without warning and their supply can hurt. Insulated probes and clips, one hand, nothing metal near the coils; take your hands out before anything is fired. Inside the cabinet local rules and licensed hands come first.',
};

/** For whoever measures at a rail that can hurt while it is on (common practice, no source). */
const railCaution: TestCaution = {
  title: 'The rail that can hurt is live in this test',
  text: 'Leave it to somebody who is used to it, or do the tests with the plug out first. Clip the meter on while the machine is off; then one hand, insulated probes, no rings or watch, nothing bridged. Local rules and licensed hands come first.',
};

const byPressing = /^(press|ball) /;

export function cautionsOf({ id, hazard, power }: Pick<Test, 'id' | 'hazard' | 'power'>): TestCaution[] {
  if (hazard === 3) return [texts.mains, texts['stored-charge']];
  if (hazard === 2) return power === 'on' ? [railCaution] : [texts['high-voltage']];
  if (power === 'unplugged') return hazard === 1 ? [texts.mains, liveCaution] : [texts.mains]; // set up dead, then looked at with power
  if (power !== 'on' || hazard === 0) return [];
  return [byPressing.test(id) ? pressCaution : liveCaution];
}
