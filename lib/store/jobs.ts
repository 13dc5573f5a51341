/** What is said of a job and cannot be derived: whose it is, and why it was set aside. */
import { and, eq, isNull } from 'drizzle-orm';
import { database } from './database';
import { job, user } from './schema';

/** Gives the job to a member, or to nobody. False when there is no such member any more. */
export async function assignJob(page: string, member: string | null): Promise<boolean> {
  if (member !== null) {
    const [known] = await database()
      .select({ id: user.id })
      .from(user)
      .where(and(eq(user.id, member), isNull(user.removedAt)));
    if (!known) return false;
  }
  await database()
    .insert(job)
    .values({ page, assigned: member })
    .onConflictDoUpdate({ target: job.page, set: { assigned: member } });
  return true;
}

/** Sets the job aside with a reason; null takes it up again. */
export async function setAside(page: string, reason: string | null): Promise<void> {
  await database()
    .insert(job)
    .values({ page, aside: reason })
    .onConflictDoUpdate({ target: job.page, set: { aside: reason } });
}

export async function getJob(page: string): Promise<{ assigned: string | null; aside: string | null }> {
  const [row] = await database().select({ assigned: job.assigned, aside: job.aside }).from(job).where(eq(job.page, page));
  return row ?? { assigned: null, aside: null };
}
