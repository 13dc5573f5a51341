import { listMembers } from '@/lib/store/members';

/** How many owners there are now. */
export const countOwners = async () => (await listMembers()).filter((m) => m.role === 'owner').length;
