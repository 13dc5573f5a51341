import type { Metadata } from 'next';
import { redirect } from 'next/navigation';
import { accountFields } from '@/app/(open)/account-fields';
import { firstOwnerAction } from '@/app/actions/account';
import { isFirstRun } from '@/lib/access/accounts';
import { ActionForm } from '@/lib/ui/forms';
import { Bare } from '@/lib/ui/shell';

export const metadata: Metadata = { title: 'Welcome' };

export default async function Welcome() {
  if (!(await isFirstRun())) redirect('/sign-in');
  return (
    <Bare title="A new notebook">
      <p className="lead">The first account owns it: it invites the others and gives them their roles.</p>
      <ActionForm
        action={firstOwnerAction}
        submit="Open the notebook"
        fields={[{ name: 'club', label: 'Name of the club or workshop', required: true }, ...accountFields]}
      />
    </Bare>
  );
}
