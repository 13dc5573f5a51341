/** Tests by eye: a solder joint, a plug against the chart. What can be seen is told by what is wrong there. */
import type { Errors } from './errors';
import { housingOf } from './network';
import type { Physical, SimOutcome } from './types';
import type { World } from './world';

type Joint = Extract<SimOutcome, { kind: 'joint' }>['looks'];
type Plug = Extract<SimOutcome, { kind: 'plug' }>['looks'];

/** A ring crack, a dark terminal, or nothing to see; a crack shows whether or not it is open just now. */
export function look(w: World, pin: string, errors: Errors): Joint {
  const here = w.faults.flatMap(({ what }) =>
    'at' in what && typeof what.at === 'object' && 'pin' in what.at && what.at.pin === pin ? [what.at.place] : [],
  );
  if (here.includes('joint') && w.random.chance(errors.crackSeen)) return 'cracked';
  if (here.some((place) => /^(pin|terminal|inline)/.test(place)) && w.random.chance(errors.darkSeen)) return 'dark';
  if (w.random.chance(errors.falseLook)) return w.random.chance(0.5) ? 'cracked' : 'dark';
  return 'sound';
}

/** A housing compared with the chart. */
export function plug(w: World, header: string, errors: Errors): Plug {
  const seen = w.faults.flatMap(({ what }) => stateOf(w, what, header))[0];
  if (seen && w.random.chance(errors.plugSeen)) return seen;
  return w.random.chance(errors.falseLook) ? 'exchanged' : 'as-charted';
}

function stateOf(w: World, what: Physical, header: string): Plug[] {
  if (what.does === 'exchanged') return housingOf(w.wiring, what) === header ? ['exchanged'] : [];
  if (what.does === 'plugs-exchanged') return what.headers.includes(header) ? ['plugs-exchanged'] : [];
  if (what.does === 'elsewhere' && what.on === header) return ['unplugged'];
  if (what.does !== 'unplugged' && what.does !== 'shifted' && what.does !== 'turned' && what.does !== 'elsewhere') return [];
  return what.header === header ? [what.does] : [];
}
