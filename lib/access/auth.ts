/** Passwords and sessions, by better-auth. Only what is called here is reachable: none of the library's own routes is exposed. */
import { betterAuth } from 'better-auth';
import { drizzleAdapter } from 'better-auth/adapters/drizzle';
import { database } from '@/lib/store/database';
import { account, session, user, verification } from '@/lib/store/schema';
import { settings } from '@/lib/store/settings';

const sessionDays = 30;
const day = 24 * 60 * 60; // s

/** Over TLS the name carries the prefix that ties the cookie to this host; plain http cannot. */
export const sessionCookie = (baseUrl: string) => ({
  name: baseUrl.startsWith('https:') ? '__Host-fettlebook' : 'fettlebook',
  secure: baseUrl.startsWith('https:'),
});

function make() {
  const { baseUrl, secret } = settings();
  const { name, secure } = sessionCookie(baseUrl);
  return betterAuth({
    baseURL: baseUrl,
    secret,
    telemetry: { enabled: false },
    database: drizzleAdapter(database(), { provider: 'pg', schema: { user, session, account, verification } }),
    emailAndPassword: { enabled: true, disableSignUp: true, minPasswordLength: 10, maxPasswordLength: 200 },
    session: { expiresIn: sessionDays * day, updateAge: day },
    rateLimit: { enabled: false }, // its routes are not reachable; lib/access/attempts.ts limits ours
    advanced: {
      useSecureCookies: false, // would add another prefix; the attributes below say the same
      cookies: { session_token: { name, attributes: { secure, httpOnly: true, sameSite: 'lax', path: '/' } } },
    },
  });
}
type Auth = ReturnType<typeof make>;

const place = Symbol.for('fettlebook.auth'); // the framework's bundle holds its own copy of this file
const house = globalThis as { [place]?: Auth };

export const auth = (): Auth => {
  house[place] ??= make();
  return house[place];
};
/** Forgets the instance; the next call makes one for the database that is open then. */
export const forgetAuth = () => {
  delete house[place];
};
