/** The shell of a signed-in page, with the club's name and the member filled in. */
import { clubName } from '@/app/club';
import type { Member } from '@/lib/store/types';
import { Shell, type ShellProps } from '@/lib/ui/shell';

export async function Frame(props: Omit<ShellProps, 'member' | 'club'> & { member: Member }) {
  const { member, ...rest } = props;
  return (
    <>
      <meta name="member" content={member.id} />
      <Shell {...rest} member={{ name: member.name, role: member.role }} club={await clubName()} />
    </>
  );
}
