/** One picture: where it is shown, and the way to remove it for good. */
import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { maySeePicture } from '@/lib/access/pictures';
import { isHash } from '@/lib/files/limits';
import { PhotoFigure } from '@/lib/ui/photo-figure';
import { Entry, LinkButton, Widget } from '@/lib/ui/shell';
import { day } from '@/lib/ui/words';
import { requireRight } from '../../../member';
import { Frame } from '../../frame';
import { whereShown } from '../where';
import { WhereList } from '../where-list';

export const metadata: Metadata = { title: 'A picture' };

export default async function Picture({ params }: { params: Promise<{ hash: string }> }) {
  const { hash } = await params;
  const member = await requireRight(`/pictures/${hash}`, 'remove', 'file');
  const picture = (isHash(hash) && (await maySeePicture(member, hash))) || notFound();
  const where = await whereShown(hash);
  const { removedAt, width, height } = picture;
  return (
    <Frame member={member} here="Bench" title="A picture">
      <Entry>
        <h1>A picture</h1>
        {removedAt && <p className="lead">It was removed for good, {day(removedAt.toISOString())}.</p>}
        <PhotoFigure
          photo={{ picture: hash, width, height, caption: '', marks: [], ...(removedAt && { removed: true as const }) }}
          alt="The picture"
        />
        <Widget title={removedAt ? 'Where it was' : 'Where it is'}>
          <WhereList where={where} gone={removedAt !== null} />
        </Widget>
        {!removedAt && (
          <div className="actions">
            <LinkButton href={`/pictures/${hash}/remove`}>Remove it for good</LinkButton>
          </div>
        )}
      </Entry>
    </Frame>
  );
}
