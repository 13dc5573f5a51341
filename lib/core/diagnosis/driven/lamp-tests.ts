/** Bench tests of matrix lamps, with the values that are good. */
import { netTitle } from '../../chart/names';
import type { Chart } from '../../chart/types';
import { seatWords } from './driven-parts';
import { type Axis, lampDriver, lampNet } from './lamp-faults';
import { isDark, isHeld, type LampHarm, type LampSpot, lampShares, lampSymptoms, litWith, sneaking } from './lamp-table';
import { perChart } from './per-chart';
import { blurred, type Harm, type Hears, hearing, suffers, type Trial } from './scenes';
import { lampSymptoms as lampWords } from './symptoms';
import { connectorLooks, inspection, trialOf } from './trials';

type LampTrial = Trial<LampHarm>;
type Harms = readonly Harm<LampHarm>[];
export type SpotOf = (number: string) => LampSpot | undefined;

export const lampChance = (harms: Harms, lamp: LampSpot, spotOf: SpotOf): number[] => {
  const shares = lampShares(harms, lamp, spotOf);
  return lampSymptoms.map((s) => blurred(shares[s] ?? 0, lampSymptoms.length));
};

/** What lamps show depends on all that is done to them, and on sneak paths from anywhere. */
export const hearsLamps =
  (numbers: readonly string[]): Hears<LampHarm> =>
  (h) =>
    h.does === 'mark' ? [] : sneaking.has(h.does) ? h.on : h.on.filter((n) => numbers.includes(n));

export const seeLamp = perChart(
  (_, lamp: LampSpot, name: string, spotOf: SpotOf) => seeing(lamp, name, spotOf),
  ({ number }) => number,
);

const seeing = (lamp: LampSpot, name: string, spotOf: SpotOf): LampTrial => ({
  id: `see ${lamp.number}`,
  title: `Command lamp ${lamp.number} ${name} alone, then another, in the lamp test and look at ${lamp.number}.`,
  minutes: 0.3,
  power: 'on',
  hazard: 1,
  outcomes: lampWords,
  offered: true,
  hears: hearsLamps([lamp.number]),
  shows: (harms) => lampChance(harms, lamp, spotOf),
});

export const allOffTrial = perChart(
  (_, lamp: LampSpot) => allOff(lamp),
  ({ number }) => number,
);

const allOff = (lamp: LampSpot): LampTrial =>
  trialOf<LampHarm, 'dark' | 'lit'>(
    {
      id: `all-off ${lamp.number}`,
      title: `Lamp test with every lamp off, column strobes running: look at row ${lamp.row}. Good: all dark.`,
      minutes: 0.5,
      power: 'on',
      hazard: 1,
      labels: { dark: 'all dark', lit: `row ${lamp.row} is lit` },
      hears: hearsLamps([lamp.number]),
    },
    (harms) => (isHeld(harms, lamp) && !isDark(harms, lamp) ? 'lit' : 'dark'),
  );

/** What else lights when only this one is commanded, of itself and its neighbours. */
export const aloneTrial = perChart(
  (_, lamp: LampSpot, neighbours: readonly LampSpot[], spotOf: SpotOf) => alone(lamp, neighbours, spotOf),
  ({ number }) => number,
);

const alone = (lamp: LampSpot, spots: readonly LampSpot[], spotOf: SpotOf): LampTrial =>
  trialOf<LampHarm, 'alone' | 'row' | 'column' | 'both'>(
    {
      id: `alone ${lamp.number}`,
      title: `Command lamp ${lamp.number} alone in the lamp test. Good: nothing else shows light.`,
      minutes: 0.5,
      power: 'on',
      hazard: 1,
      labels: { alone: 'nothing else', row: 'others of its row', column: 'others of its column', both: 'others of both' },
      hears: hearsLamps(spots.map((s) => s.number)),
    },
    (harms) => {
      const lit = spots.filter((s) => s !== lamp && litWith(harms, s, lamp, spotOf));
      const row = lit.some((s) => s.row === lamp.row);
      const column = lit.some((s) => s.column === lamp.column);
      return row && column ? 'both' : row ? 'row' : column ? 'column' : 'alone';
    },
  );

/** Tests at one lamp. */
export const lampTrials = perChart(
  (_, lamp: LampSpot) => trialsAt(lamp),
  ({ number }) => number,
);

function trialsAt({ number }: LampSpot): LampTrial[] {
  const off = { power: 'off', hazard: 0 } as const;
  const has = (harms: Harms, does: LampHarm) => suffers(harms, does, number);
  const hears = (...does: LampHarm[]) => hearing([number], ...does);
  return [
    trialOf<LampHarm, 'cured' | 'same'>(
      {
        ...off,
        id: `bulb ${number}`,
        title: `Put a lamp that is known to be good in ${number}, and see. Let the old one cool first.`,
        minutes: 1,
        labels: { cured: 'lights', same: 'as before' },
        hears: hears('bulb', 'bulb-shorted'),
      },
      (harms) => (has(harms, 'bulb') || has(harms, 'bulb-shorted') ? 'cured' : 'same'),
    ),
    inspection<LampHarm>(
      {
        id: `socket ${number}`,
        title: `Mains plug out: look at the socket and lugs of lamp ${number} and move each wire. Good: bright, nothing moves.`,
        minutes: 1,
        sound: 'all firm',
        bad: 'dark, slack or broken',
      },
      'mark',
      [`socket ${number}`, `lug ${number}`],
    ),
    trialOf<LampHarm, 'good' | 'open' | 'short' | 'reversed'>(
      {
        id: `diode ${number}`,
        title: `Mains plug out, connectors off, one lead lifted: the diode of lamp ${number} in the diode range both ways. Good: 0.5–0.7 V one way, OL the other.`,
        minutes: 5,
        power: 'unplugged',
        hazard: 0,
        labels: { good: 'good', open: 'OL both ways', short: 'both ways near 0', reversed: 'good but turned round' },
        hears: hears('diode-open', 'diode-shorted', 'diode-reversed'),
      },
      (harms) =>
        has(harms, 'diode-open') ? 'open' : has(harms, 'diode-shorted') ? 'short' : has(harms, 'diode-reversed') ? 'reversed' : 'good',
    ),
    trialOf<LampHarm, 'clear' | 'short'>(
      {
        id: `cross ${number}`,
        title: `Mains plug out, connectors off, lamp ${number} out of its socket: ohms between its column and row wire. Good: over 100 kΩ.`,
        minutes: 3,
        power: 'unplugged',
        hazard: 0,
        labels: { clear: 'over 100 kΩ', short: 'under 10 Ω' },
        hears: hears('crossed'),
      },
      (harms) => (has(harms, 'crossed') ? 'short' : 'clear'),
    ),
  ];
}

/** Tests of one line, seen through a lamp that hangs on it. */
export const lineTrials = perChart(trialsOfLine, (axis, line, { number }) => `${axis} ${line} ${number}`);

function trialsOfLine(chart: Chart, axis: Axis, line: number, { number }: LampSpot): LampTrial[] {
  const net = lampNet(chart, axis, line);
  const title = netTitle(chart, net);
  const taps = chart.taps.get(net) ?? [];
  const [tap] = taps;
  const plug = tap ? seatWords(tap.pin) : title;
  const driver = lampDriver(chart, axis, line);
  const column = axis === 'column';
  const has = (harms: Harms, does: LampHarm) => suffers(harms, does, number);
  const hears = (...does: LampHarm[]) => hearing([number], ...does);
  const onBoard: LampHarm[] = column ? ['column-dead', 'column-on'] : ['row-dead', 'row-on'];
  const shorts: LampHarm[] = column ? ['column-grounded'] : ['row-grounded', 'row-supplied'];
  const dead = (harms: Harms) => has(harms, column ? 'column-dead' : 'row-dead');
  const stuck = (harms: Harms) => has(harms, column ? 'column-on' : 'row-on');
  const grounded = (harms: Harms) => has(harms, column ? 'column-grounded' : 'row-grounded');
  return [
    trialOf<LampHarm, 'strobes' | 'none' | 'steady'>(
      {
        id: `strobe ${net}`,
        title: `Machine on, logic probe or scope on ${title} at ${plug}, on the board’s side. Good: it changes with the lamp test.`,
        minutes: 2,
        power: 'on',
        hazard: 1,
        labels: { strobes: 'changes', none: 'never on', steady: 'on all the time' },
        hears: hears(...onBoard, ...shorts),
      },
      (harms) => {
        if (column) return dead(harms) || grounded(harms) ? 'none' : stuck(harms) ? 'steady' : 'strobes';
        return stuck(harms) || grounded(harms) ? 'steady' : dead(harms) || has(harms, 'row-supplied') ? 'none' : 'strobes';
      },
    ),
    trialOf<LampHarm, 'good' | 'short' | 'open'>(
      {
        id: `junctions ${net}`,
        title: `Mains plug out: junctions of ${driver} in the diode range. Good: 0.4–0.75 V one way, none below 0.1 V.`,
        minutes: 3,
        power: 'off',
        hazard: 0,
        labels: { good: 'good', short: 'shorted', open: 'open' },
        hears: hears(...onBoard),
      },
      (harms) => (stuck(harms) ? 'short' : dead(harms) ? 'open' : 'good'),
    ),
    trialOf<LampHarm, 'clear' | 'ground' | 'supply'>(
      {
        id: `ohms ${net}`,
        title: `Mains plug out, ${plug} unplugged: ohms from the wire of ${title} to ground and to the lamp supply. Good: over 100 kΩ to both.`,
        minutes: 3,
        power: 'unplugged',
        hazard: 0,
        labels: { clear: 'over 100 kΩ', ground: 'short to ground', supply: 'short to the supply' },
        hears: hears(...shorts),
      },
      (harms) => (grounded(harms) ? 'ground' : !column && has(harms, 'row-supplied') ? 'supply' : 'clear'),
    ),
    trialOf<LampHarm, 'good' | 'open'>(
      {
        id: `continuity ${net}`,
        title: `Mains plug out, connectors off: ohms from ${tap?.pin ?? title} on the board through ${plug} to the lug of lamp ${number}. Good: under 1 Ω, steady.`,
        minutes: 4,
        power: 'unplugged',
        hazard: 0,
        labels: { good: 'under 1 Ω', open: 'open or jumping' },
        hears: hears(column ? 'column-cut' : 'row-cut'),
      },
      (harms) => (has(harms, column ? 'column-cut' : 'row-cut') ? 'open' : 'good'),
    ),
    ...taps.flatMap(({ pin }) => connectorLooks<LampHarm>(pin, 'mark')),
  ];
}

export const lampFuseTrial = perChart(
  (_, number: string) => lampFuse(number),
  (number) => number,
);

const lampFuse = (number: string): LampTrial =>
  trialOf<LampHarm, 'good' | 'none'>(
    {
      id: 'lamp-supply',
      title: 'Machine on: volts of the lamp supply behind its fuse, to ground. Good: as the chart says.',
      minutes: 1.5,
      power: 'on',
      hazard: 2,
      labels: { good: 'as it should be', none: 'nothing' },
      hears: hearing<LampHarm>([number], 'supply-dead'),
    },
    (harms) => (suffers(harms, 'supply-dead', number) ? 'none' : 'good'),
  );
