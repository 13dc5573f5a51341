/** The demo club's people, as the sign-in page shows them. */
import club from '@/content/club.json';

export const demoMembers = { password: club.password, members: club.members };
