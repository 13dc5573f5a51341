/** One secret for all servers on a database: a session that one of them signed must hold on the others. */
import { createHmac } from 'node:crypto';
import { eq } from 'drizzle-orm';
import { setSetting } from './club';
import type { Database } from './database';
import { setting } from './schema';

const key = 'secret.fingerprint';
/** Says whether two secrets are the same, and nothing else about them. */
const fingerprintOf = (secret: string) => createHmac('sha256', secret).update('the secret of a Fettlebook').digest('hex').slice(0, 32);

/** Keeps the fingerprint of the secret. Another one takes its place: who is alone on a database may change the secret. */
export const keepSecret = (secret: string): Promise<void> => setSetting(key, fingerprintOf(secret));

/** Keeps the fingerprint if it is the first. Throws, with what to do, when the servers on this database have another secret. */
export async function shareSecret(db: Database, secret: string): Promise<void> {
  await db
    .insert(setting)
    .values({ key, value: fingerprintOf(secret) })
    .onConflictDoNothing();
  const [kept] = await db.select({ value: setting.value }).from(setting).where(eq(setting.key, key));
  if (kept?.value === fingerprintOf(secret)) return;
  throw new Error(
    'SECRET: this database is used with another secret, so whoever signed in at one server would be a stranger at the other. ' +
      'Give every server the same SECRET; one that was started without has it in the file "secret" of its data folder. ' +
      `To change it for all: stop every server, run  delete from setting where key = '${key}'  in the database, and start them with the new one. ` +
      'Then everyone signs in again.',
  );
}
