import type { Metadata } from 'next';
import { accountFields } from '@/app/(open)/account-fields';
import { joinAction } from '@/app/actions/account';
import { clubName } from '@/app/club';
import { lookAtInvite } from '@/lib/access/accounts';
import { ActionForm } from '@/lib/ui/forms';
import { Bare } from '@/lib/ui/shell';

export const metadata: Metadata = { title: 'Join', robots: { index: false } };

export default async function Join({ params }: { params: Promise<{ invite: string }> }) {
  const { invite } = await params;
  const found = await lookAtInvite(invite);
  if (!found) {
    return (
      <Bare title="This invite can’t be used">
        <p className="lead">It has been used already, has run out after seven days, or was taken back. Ask the owner for a new one.</p>
        <p>
          <a href="/sign-in">Sign in instead</a>
        </p>
      </Bare>
    );
  }
  return (
    <Bare title={`Join ${await clubName()}`}>
      <p className="lead">
        You will be a{found.role === 'editor' || found.role === 'owner' ? 'n' : ''} {found.role}.
      </p>
      <ActionForm
        action={joinAction}
        submit="Join"
        fields={[{ name: 'invite', label: '', type: 'hidden', value: invite }, ...accountFields]}
      />
    </Bare>
  );
}
