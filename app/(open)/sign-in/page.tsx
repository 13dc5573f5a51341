import type { Metadata } from 'next';
import { redirect } from 'next/navigation';
import { signInAction } from '@/app/actions/account';
import { demoMembers } from '@/app/demo';
import { isFirstRun } from '@/lib/access/accounts';
import { settings } from '@/lib/store/settings';
import { ActionForm } from '@/lib/ui/forms';
import { Bare } from '@/lib/ui/shell';

export const metadata: Metadata = { title: 'Sign in' };

export default async function SignIn({ searchParams }: { searchParams: Promise<{ next?: string }> }) {
  if (await isFirstRun()) redirect('/welcome');
  const { next } = await searchParams;
  return (
    <Bare title="Sign in">
      <ActionForm
        action={signInAction}
        submit="Sign in"
        fields={[
          { name: 'email', label: 'E-mail', type: 'email', autoComplete: 'username', required: true },
          { name: 'password', label: 'Password', type: 'password', autoComplete: 'current-password', required: true },
          { name: 'next', label: '', type: 'hidden', value: next ?? '/' },
        ]}
      />
      {settings().demo ? (
        <section className="demo-note">
          <h2>This is the demo club</h2>
          <p>
            Sign in as any of these; the password of each is <b className="mono">{demoMembers.password}</b>
          </p>
          <ul>
            {demoMembers.members.map((m) => (
              <li key={m.email}>
                <span className="mono">{m.email}</span>{' '}
                <span className="soft">
                  {m.name}, {m.role}
                </span>
              </li>
            ))}
          </ul>
        </section>
      ) : (
        <p className="soft">No account? Ask your club’s owner for an invite link.</p>
      )}
    </Bare>
  );
}
