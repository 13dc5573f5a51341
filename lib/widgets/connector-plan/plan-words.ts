/** What a connector plan says in sentences. */
import { positionLabel } from '@/lib/core/chart/positions';
import { housingName } from '@/lib/core/chart/views';
import { positionsWords } from '@/lib/core/harness/pin-rows';
import type { ConnectorPlan, HousingChoice, Pigtail, PlanRow } from '@/lib/core/harness/types';
import type { FaceView } from '@/lib/core/lookup/types';
import { listed } from '@/lib/ui/words';

const counts = ['no', 'one', 'two', 'three', 'four'];

const pigtailNote = ({ pigtail }: PlanRow) => (pigtail?.chosen ? `, on a pigtail of ${pigtail.awg} AWG` : '');

/** "row 6, 24 AWG" or "ground, two wires, 22 + 22: 19.0 AWG together". */
export function gaugeWords(row: PlanRow): string {
  if (row.key) return 'keying plug';
  if (row.wires.length === 0) return 'no wire';
  const gauges = row.wires.map((w) => w.awg);
  if (gauges.length === 1) return `${row.label}, ${gauges[0]} AWG${pigtailNote(row)}`;
  const together = row.equivalentAwg === null ? '' : `: ${row.equivalentAwg.toFixed(1)} AWG together`;
  return `${row.label}, ${counts[gauges.length] ?? gauges.length} wires, ${gauges.join(' + ')}${together}${pigtailNote(row)}`;
}

/** "the plan for A3P5", "the plans for A3P5 and A3P6". */
export const plansFor = (names: string[]) => `the ${names.length === 1 ? 'plan' : 'plans'} for ${listed(names)}`;

export function housingWords(choice: HousingChoice): string {
  switch (choice.how) {
    case 'exact':
      return `Take ${choice.part}, ${choice.name}: ${choice.positions} positions, as it is. ${choice.onHand} free.`;
    case 'cut':
      return `${choice.cut === 'sawn' ? 'Cut' : 'Break'} ${choice.part}, ${choice.name}, from ${choice.from} to ${choice.positions} positions${choice.lost ? `; the blade takes ${choice.lost === 1 ? 'one' : choice.lost}` : ''}. ${choice.offcut > 0 ? `Keep the offcut of ${choice.offcut}. ` : ''}${choice.onHand} free.`;
    case 'shared':
      return `One ${choice.part}, ${choice.name}, serves this plan and ${plansFor(choice.share.others.map(housingName))}. ${choice.onHand > 0 ? `${choice.onHand} free.` : 'To be bought.'}`;
    case 'order':
      return `Order ${choice.part}, ${choice.name}: ${choice.positions} positions. None free.`;
    case 'none':
      return `${choice.message} ${choice.mend}`;
  }
}

/** "11 positions, 2.54 mm, key at 4, tin." */
export function headerWords({ header, half }: ConnectorPlan): string {
  const keys = header.keys.length > 0 ? `key at ${listed(header.keys.map((key) => atPosition({ header }, key)))}` : 'no key';
  const which = half ? `${half.title}, with ${half.contacts}. ` : '';
  return `${which}${positionsWords(header)}, ${header.pitchMm} mm, ${keys}, ${header.plating} plated, ${header.termination} before.`;
}

const whyPigtail: Record<Pigtail['why'], string> = {
  'fits-none': 'No terminal takes it as it is.',
  'two-wires': 'It spares the terminal its second wire.',
  length: 'For a wire that is too short once it is cut back.',
};

/** "150 mm of 24 AWG in T-254-S, splice X-SPLICE, 17 free. No terminal takes it as it is." */
export function pigtailWords({ awg, lengthMm, insulationMm, terminal, splice, why }: Pigtail): string {
  const joined = splice.part === null ? 'no splice for it in the catalogue' : `splice ${splice.part}, ${splice.onHand} free`;
  return `${lengthMm} mm of ${awg} AWG, insulation about ${insulationMm} mm, in ${terminal.part}; ${joined}. ${whyPigtail[why]}`;
}

/** What the chart prints at a position of the planned header; its count where the chart prints nothing. */
export const atPosition = ({ header }: Pick<ConnectorPlan, 'header'>, position: number): string =>
  positionLabel(header, position) || String(position);

/** "2.7 A": three figures do for amperes, volts and joules. */
export const amount = (value: number, unit: string): string => `${Number(value.toPrecision(3))} ${unit}`;

/** "25 s", "2 min", "3 h". */
export function span(seconds: number): string {
  if (seconds < 100) return `${Math.round(seconds)} s`;
  return seconds < 6000 ? `${Math.round(seconds / 60)} min` : `${Math.round(seconds / 3600)} h`;
}

/** The planned housing as a drawing needs it. */
export const planFace = (plan: ConnectorPlan): FaceView => ({
  header: plan.header,
  housing: plan.housingName,
  ...(plan.half?.contacts === 'pins' && { contacts: 'pins' as const }),
  positions: plan.rows.map(({ position, key, wires, net, label, found }) => ({
    position,
    key,
    wires,
    net,
    label,
    lit: false,
    ...(found && { found }),
  })),
});

export const hasWire = (row: PlanRow) => !row.key && !row.empty;
