/** The shell of a signed-in page, with the club's name and the member filled in. */
import type { ReactNode } from 'react';
import { clubName } from '@/app/club';
import type { Member } from '@/lib/store/types';
import { type Section, Shell } from '@/lib/ui/shell';

export async function Frame(props: {
  member: Member;
  here: Section;
  title: string;
  query?: string;
  margin?: ReactNode;
  bar?: string;
  state?: ReactNode;
  children: ReactNode;
}) {
  const { member, ...rest } = props;
  return <Shell {...rest} member={{ name: member.name, role: member.role }} club={await clubName()} />;
}
