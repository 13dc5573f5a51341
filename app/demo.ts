/** The demo club's people, as the sign-in page shows them. */
import club from '@/content/club.json';

export const demoMembers = { password: 'bench-demo-2026', members: club.members };
