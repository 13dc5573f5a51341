/** Asks before a picture is removed for good. */
import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { removePictureAction } from '@/app/actions/pictures';
import { maySeePicture } from '@/lib/access/pictures';
import { isHash } from '@/lib/files/limits';
import { ActionForm } from '@/lib/ui/forms';
import { PhotoFigure } from '@/lib/ui/photo-figure';
import { Entry, LinkButton } from '@/lib/ui/shell';
import { requireRight } from '../../../../member';
import { Frame } from '../../../frame';
import { whereShown } from '../../where';
import { WhereList } from '../../where-list';

export const metadata: Metadata = { title: 'Remove a picture' };

export default async function RemovePicture({ params }: { params: Promise<{ hash: string }> }) {
  const { hash } = await params;
  const member = await requireRight(`/pictures/${hash}/remove`, 'remove', 'file');
  const picture = (isHash(hash) && (await maySeePicture(member, hash))) || notFound();
  if (picture.removedAt) notFound();
  const where = await whereShown(hash);
  const { width, height } = picture;
  return (
    <Frame member={member} here="Bench" title="Remove a picture">
      <Entry>
        <h1>Remove this picture for good?</h1>
        <PhotoFigure photo={{ picture: hash, width, height, caption: '', marks: [] }} alt="The picture" />
        <p className="lead">
          It goes from every place below, from their histories and from customers’ links, and cannot be brought back. There it says “Picture
          removed”; captions and what was written beside it stay. The same file is not taken in again.
        </p>
        <WhereList where={where} />
        <p className="soft">Backups and archives that were made before, and devices that are not online, have it until they are renewed.</p>
        <ActionForm
          action={removePictureAction}
          submit="Remove it for good"
          fields={[{ name: 'hash', label: '', type: 'hidden', value: hash }]}
        />
        <div className="actions">
          <LinkButton href={`/pictures/${hash}`}>Keep it</LinkButton>
        </div>
      </Entry>
    </Frame>
  );
}
