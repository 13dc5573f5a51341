/** The order of work. Ids are stable, since ticks hang on them. Minutes come from the table in minutes.ts. */
import { positionLabel } from '../chart/positions';
import { housingName } from '../chart/views';
import { stripWords as jobStripWords } from './job-words';
import { minutes } from './minutes';
import { chargeWords, groupWords, lineWords, stripWords } from './step-words';
import type { ConnectorPlan, HeaderChoice, HousingChoice, WorkStep } from './types';

export type Work = Pick<
  ConnectorPlan,
  'half' | 'header' | 'housingName' | 'rows' | 'terminals' | 'housing' | 'keys' | 'newHeader' | 'groups' | 'reservoirs'
> & {
  headerSide: 'sound' | 'reflow' | 'replace';
  saveKey: boolean;
};

/** In order; a step is there only when this plan calls for it. */
export function stepsFor(work: Work): WorkStep[] {
  const { half, header, housingName, rows, terminals, housing, keys, newHeader, headerSide, saveKey, groups, reservoirs } = work;
  const wired = rows.filter((r) => r.wires.length > 0);
  const further = wired.reduce((sum, r) => sum + r.wires.length - 1, 0);
  const pigtails = rows.flatMap((r) => (r.pigtail?.chosen ? [{ position: r.position, ...r.pigtail }] : []));
  const at = (position: number) => positionLabel(header, position) || String(position);
  const step = (id: string, time: number, title: string, detail: string): WorkStep => ({
    id,
    title,
    detail,
    minutes: Math.max(1, Math.round(time)),
  });
  const list: (WorkStep | false)[] = [
    step('power-off', minutes.powerOff, 'Power off, mains plug out', 'The plug itself, where you can see it.'),
    step('charge', minutes.charge, 'Capacitors discharged and measured', chargeWords(reservoirs)),
    step(
      'batteries',
      minutes.batteries,
      'Batteries out',
      half ? 'On the boards that it leads to.' : 'Look for leakage round the header while you are there.',
    ),
    step('photo', minutes.photo, 'Photo of the old housing in place', 'With the wires to be read on it.'),
    step(
      'mark',
      minutes.mark,
      `Position ${at(1)} marked on both halves`,
      half ? `On ${half.mate} and on the old half.` : `On ${header.id} and on the old housing.`,
    ),
    headerSide === 'reflow' &&
      step(
        'reflow',
        header.positions * minutes.perJoint + minutes.reflow,
        `Joints on ${header.id} reflowed`,
        'Every pin, with fresh solder and flux; a ring round a pin is a crack. Window open, fan on. Pins that stay black or thin: replace the header instead.',
      ),
    newHeader !== null &&
      step(
        'header',
        header.positions * minutes.perJoint + minutes.header,
        `Header ${header.id} replaced`,
        `${headerCut(newHeader, header.positions)}Same pitch, same plating, same pins${keys.positions.length > 0 ? '; pull the pin at the key before it is fitted' : ''}. Pads with leakage are neutralised and rinsed first. Window open, fan on.`,
      ),
    housing.how === 'cut' &&
      step(
        'cut',
        minutes.cut,
        `New housing cut to ${housing.positions}`,
        `From ${housing.part} with ${housing.from} positions; ${housing.cut === 'sawn' ? `the blade takes position ${housing.positions + 1}` : 'it breaks on the score'}. The lock and the end wall go with the cut end.`,
      ),
    housing.how === 'shared' && step('cut', minutes.cut, `New housing cut to ${housing.positions}`, sharedCut(housing)),
    keys.positions.length > 0 &&
      half?.contacts === 'pins' &&
      step(
        'key',
        minutes.key,
        `Position ${keys.positions.map(at).join(' and ')} stays without a pin`,
        `The socket opposite, in ${half.mate}, is plugged.`,
      ),
    keys.positions.length > 0 &&
      half?.contacts !== 'pins' &&
      step(
        'key',
        minutes.key,
        `Keying plug in position ${keys.positions.map(at).join(' and ')}`,
        `${saveKey ? 'The old one, moved across. ' : ''}Before any wire, so that none can go there. An improvised plug works loose.`,
      ),
    terminals.length > 0 &&
      step(
        'sample',
        terminals.length * minutes.perSampleKind,
        'Sample crimps pulled apart',
        'Two or three of the same wire, terminal and tool; the test destroys them. The terminal maker’s own figure goes before the table’s. On the harness there is only a tug by hand.',
      ),
    pigtails.length > 0 &&
      step(
        'pigtails',
        pigtails.length * minutes.perPigtail,
        `Pigtails made for ${lineWords(pigtails.map((p) => at(p.position)))}`,
        pigtailWords(pigtails, at),
      ),
    wired.length > 0 &&
      step(
        'wires',
        wired.length * minutes.perPosition + further * minutes.perFurtherWire,
        'Wires moved, one at a time',
        `From old position n to new position n: ${oldEnd[header.termination]}, cut back black strands to bright copper, ${stripWords(rows)}, crimp, tug by hand and seat, before the next one is cut. Never tin before crimping. Too short then: a pigtail, never a stretched wire.`,
      ),
    wired.length > 0 &&
      step(
        'continuity',
        wired.length * minutes.perContinuity,
        'Each pin to its first lug measured',
        half
          ? `With the halves apart, wire by wire, moving the wire${half.contacts === 'pins' ? '' : '; the probe beside the contact, never into it'}.`
          : 'With the housing off the header, wire by wire, moving the wire.',
      ),
    wired.length > 0 &&
      step('groups', minutes.groups + groups.length * minutes.perGroup, 'Measured groups match the net list', groupWords(groups, at)),
    half
      ? step(
          'reseat',
          minutes.reseat,
          `${housingName} and ${half.mate} together, batteries in, power on`,
          togetherWords(at(1), half.mate)[header.lock ?? 'unknown'],
        )
      : step('reseat', minutes.reseat, `${housingName} seated, batteries in, power on`, seatingWords(at(1))[header.lock ?? 'unknown']),
    step('proof', minutes.proof, 'Fault proved gone', 'Cold, warm, with coils firing, by ball.'),
  ];
  return list.filter((s): s is WorkStep => s !== false);
}

/** One strip for several: cut once, whichever plan comes first. */
function sharedCut({ part, from, cut, share: { strip } }: Extract<HousingChoice, { how: 'shared' }>): string {
  const pieces = strip.pieces.map((p) => ({ ...p, id: housingName(p.id) }));
  const how = jobStripWords({ ...strip, pieces });
  return `One ${part} with ${from} positions serves ${lineWords(pieces.map((p) => p.id))}: ${how}. ${cut === 'sawn' ? 'The lock and the end walls' : 'The end walls'} go with the cuts. Once for all of them.`;
}

/** How a new board header is cut; empty when it is taken whole. */
function headerCut({ part, from, cut, share }: HeaderChoice, positions: number): string {
  if (share && share.others.length > 0)
    return `One ${part} serves ${lineWords(share.strip.pieces.map((p) => p.id))}: ${jobStripWords(share.strip)}. `;
  return cut ? `Cut from ${from} positions to ${positions}. ` : '';
}

/** What the lock of a header still allows, by what is printed at its first position. */
const seatingWords = (first: string) => ({
  shroud: 'The shroud stops it turned round or shifted: if it does not go on, look, and never press harder.',
  friction: `Not shifted by one, which a friction wall does not stop: position ${first} to the mark.`,
  none: `Nothing stops it turned round or shifted by one: position ${first} to the mark, and count the free pins at both ends.`,
  unknown: `Not shifted by one: position ${first} to the mark.`,
});

/** The same for two halves that hang in a cable. */
const togetherWords = (first: string, mate: string) => {
  const match = `position ${first} to position ${first}, and the colours of each position held against those of ${mate}`;
  return {
    shroud: 'A shroud stops them turned round or shifted: if they do not go together, look, and never press harder.',
    friction: `Not shifted by one, which a friction wall does not stop: ${match}.`,
    none: `Nothing stops them turned round or shifted by one: ${match}.`,
    unknown: `Not shifted by one: ${match}.`,
  };
};

/** An insulation-displacement slot has marked its wire, and is not used again on the same spot. */
const oldEnd = {
  'insulation-displacement': 'cut off the old slot’s mark',
  crimp: 'cut off the old crimp',
  soldered: 'cut off the tinned end',
} as const;

const pigtailWords = (
  pigtails: readonly { position: number; awg: number; lengthMm: number; slackMm: number }[],
  at: (position: number) => string,
) =>
  `${pigtails.map((p) => `${at(p.position)}: ${p.awg} AWG, ${p.lengthMm} mm`).join('; ')}. Crimp the terminal first and tug it; slide the sleeve on before the splice, and splice when its turn comes, ${Math.max(...pigtails.map((p) => p.slackMm))} mm of loose wire at the least, splices staggered.`;
