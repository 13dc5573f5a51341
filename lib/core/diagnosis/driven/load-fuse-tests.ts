/** Bench tests of the fuse of a load and of what blows it. */
import { netTitle } from '../../chart/names';
import type { Load } from '../../chart/schema';
import type { Chart } from '../../chart/types';
import { fuseOf, matesOf } from './load-faults';
import { burning, burns, circuitOf, type LoadCircuit, type LoadHarm } from './load-table';
import { aboutVolts, offWords, railHazard } from './load-words';
import { perChart } from './per-chart';
import { blurred, type Harm, hearing, suffers, type Trial } from './scenes';
import { inspection, trialOf } from './trials';

type Predict = (harms: readonly Harm<LoadHarm>[]) => LoadCircuit;
type LoadTrial = Trial<LoadHarm>;

/** The fuse of a load: is it whole, does supply reach it, are its clips tight. */
export const fuseTrials = perChart(fuseOnly, ({ number }) => number);

function fuseOnly(chart: Chart, load: Load): LoadTrial[] {
  const fuse = fuseOf(chart, load);
  const hazard = railHazard(chart, load.supply);
  const before = offWords(chart, load.supply);
  const volts = aboutVolts(chart, load);
  const at: Predict = (harms) => circuitOf(harms, load.number);
  return [
    trialOf<LoadHarm, 'whole' | 'blown'>(
      {
        id: `fuse ${fuse}`,
        title: `${before}take ${fuse} out of its holder and measure ohms. Good: under 1 Ω.`,
        minutes: 1.5,
        power: 'off',
        hazard,
        labels: { whole: 'under 1 Ω', blown: 'open' },
        hears: hearing<LoadHarm>([load.number], 'fuse-blown'),
      },
      (harms) => (at(harms).does('fuse-blown') ? 'blown' : 'whole'),
    ),
    inspection<LoadHarm>(
      {
        id: `clips ${fuse}`,
        title: `Mains plug out: look at the clips of ${fuse}. Good: bright, tight, not brown.`,
        minutes: 1,
        sound: 'tight',
        bad: 'slack or brown',
      },
      'mark',
      [`holder ${fuse}`],
    ),
    trialOf<LoadHarm, 'both' | 'one' | 'neither'>(
      {
        id: `fuse-volts ${fuse}`,
        title: `Load rail live, one hand: volts from ground to each end of ${fuse}. Good: ${volts} at both.`,
        minutes: 1.5,
        power: 'on',
        hazard: 2,
        labels: { both: 'at both ends', one: 'at one end', neither: 'at neither' },
        hears: hearing<LoadHarm>([load.number], 'feed-cut', 'fuse-blown', 'holder-cut'),
      },
      (harms) => {
        const c = at(harms);
        return c.does('feed-cut') ? 'neither' : c.does('fuse-blown') || c.does('holder-cut') ? 'one' : 'both';
      },
    ),
  ];
}

/** Which load draws too much, and whether the line behind the fuse is shorted itself. */
export const surveyTrials = perChart(survey, ({ number }) => number);

function survey(chart: Chart, load: Load): LoadTrial[] {
  const fuse = fuseOf(chart, load);
  const mates = matesOf(chart, load);
  const hazard = railHazard(chart, load.supply);
  const outcomes = [{ id: 'none', label: 'none of them' }, ...mates.map((m) => ({ id: m.number, label: `${m.number} ${m.name}` }))];
  const shows = (harms: readonly Harm<LoadHarm>[]) => {
    const drawing = mates.filter((m) => suffers(harms, 'draws', m.number) || burns(circuitOf(harms, m.number))).map((m) => m.number);
    const share = (id: string) => (drawing.length === 0 ? Number(id === 'none') : drawing.includes(id) ? 1 / drawing.length : 0);
    return outcomes.map((o) => blurred(share(o.id), outcomes.length));
  };
  const hears = hearing<LoadHarm>(
    mates.map((m) => m.number),
    ...burning,
  );
  const title = `Put a test lamp in the place of ${fuse}, power on, hands clear: fire its loads one after another. Good: the lamp only blinks. Which one lights it fully, or keeps it lit until its return plug is off?`;
  return [
    { id: `draws ${fuse}`, title, minutes: 3 + 0.5 * mates.length, power: 'on', hazard: 2, outcomes, offered: true, shows, hears },
    trialOf<LoadHarm, 'clear' | 'short'>(
      {
        id: `rail ${fuse}`,
        title: `${offWords(chart, load.supply)}${fuse} out, return plugs off: ohms from ${netTitle(chart, load.supply)} behind the fuse to ground. Good: over 1 kΩ.`,
        minutes: 2,
        power: 'unplugged',
        hazard,
        labels: { clear: 'over 1 kΩ', short: 'under 10 Ω' },
        hears: hearing<LoadHarm>([load.number], 'supply-grounded'),
      },
      (harms) => (circuitOf(harms, load.number).does('supply-grounded') ? 'short' : 'clear'),
    ),
  ];
}
