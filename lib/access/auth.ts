/** Passwords and sessions, by better-auth. Only what is called here is reachable: none of the library's own routes is exposed. */
import { betterAuth } from 'better-auth';
import { drizzleAdapter } from 'better-auth/adapters/drizzle';
import { type Database, database } from '@/lib/store/database';
import { account, session, user, verification } from '@/lib/store/schema';
import { type Settings, settings } from '@/lib/store/settings';

const sessionDays = 30;
const day = 24 * 60 * 60; // s

/** Over TLS the name carries the prefix that ties the cookie to this host; plain http cannot. */
export const sessionCookie = (baseUrl: string) => ({
  name: baseUrl.startsWith('https:') ? '__Host-fettlebook' : 'fettlebook',
  secure: baseUrl.startsWith('https:'),
});

/** The library on one database and one address. */
export function makeAuth(on: Database, { baseUrl, secret }: Pick<Settings, 'baseUrl' | 'secret'>) {
  const { name, secure } = sessionCookie(baseUrl);
  return betterAuth({
    baseURL: baseUrl,
    secret,
    telemetry: { enabled: false },
    logger: { level: 'error' },
    database: drizzleAdapter(on, { provider: 'pg', schema: { user, session, account, verification } }),
    emailAndPassword: { enabled: true, disableSignUp: true, minPasswordLength: 10, maxPasswordLength: 200 },
    session: { expiresIn: sessionDays * day, disableSessionRefresh: true }, // the cookie and the row end together
    rateLimit: { enabled: false }, // its routes are not reachable; lib/store/attempts.ts limits ours
    advanced: {
      useSecureCookies: false, // would add another prefix; the attributes below say the same
      cookies: { session_token: { name, attributes: { secure, httpOnly: true, sameSite: 'lax', path: '/' } } },
      ipAddress: { disableIpTracking: true }, // it would believe any X-Forwarded-For, and nothing here shows addresses
    },
  });
}
type Auth = ReturnType<typeof makeAuth>;

const place = Symbol.for('fettlebook.auth'); // the framework's bundle holds its own copy of this file
const house = globalThis as { [place]?: { on: Database; auth: Auth } };

/** The one of this process, for the database that is open. */
export function auth(): Auth {
  const on = database();
  if (house[place]?.on !== on) house[place] = { on, auth: makeAuth(on, settings()) };
  return house[place].auth;
}
