/** The club's name, for the running head. */
import { getSetting } from '@/lib/store/club';

export const clubName = async () => (await getSetting('club.name')) ?? 'Your club';
