/** Moments and stretches of a page's past, in words. */
import type { Stretch } from '@/lib/store/types';
import { clock } from './blocks';
import { day, localIso } from './words';

/** A moment on the clock of the machine that serves the notebook: still pages know no other. */
export function wall(iso: string): string {
  const moment = new Date(iso);
  return localIso(moment, -moment.getTimezoneOffset());
}

export const dayOf = (iso: string) => day(wall(iso));

/** “10:02 to 10:31”; one time where both are the same minute. */
export function clocks({ began, at }: Pick<Stretch, 'began' | 'at'>): string {
  const [from, to] = [clock(wall(began)), clock(wall(at))];
  return from === to ? to : `${from} to ${to}`;
}

/** “Ines Okafor and Tomas Reid”. */
export const whoOf = ({ members }: Pick<Stretch, 'members'>) =>
  members.length === 0 ? 'The notebook itself' : new Intl.ListFormat('en-GB').format(members.map(({ name }) => name));

/** “14 March 2026, 10:31”. */
export const momentOf = ({ at }: Pick<Stretch, 'at'>) => `${dayOf(at)}, ${clock(wall(at))}`;

/** “‘As handed back’, 14 March 2026, 10:31”. */
export const pointOf = (stretch: Pick<Stretch, 'at' | 'name'>) =>
  stretch.name ? `‘${stretch.name}’, ${momentOf(stretch)}` : momentOf(stretch);
