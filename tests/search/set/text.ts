/** A repair as text, for engines that know nothing but text. */
import { faultName } from '@/lib/core/diagnosis/classes';
import type { Repair } from './types';

export const plainText = (r: Repair): string => [r.title, r.complaint, r.notes, r.remedy].filter(Boolean).join('\n');

/** The same with everything the chart adds, as words: what the notebook's own index is given. */
export const textWithFacts = (r: Repair, machineTitle: string): string =>
  [
    plainText(r),
    machineTitle,
    r.cause ? faultName(r.cause) : '',
    r.place,
    ...r.devices.map((d) => `${d.number} ${d.name}`),
    ...new Set(r.devices.flatMap((d) => d.lines.flatMap((l) => [l.colour.replace('/', ' '), l.pin]))),
  ]
    .filter(Boolean)
    .join('\n');
