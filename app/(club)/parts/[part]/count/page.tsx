import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { countAction } from '@/app/actions/stock';
import { requireRight } from '@/app/member';
import { newId } from '@/lib/notebook/ids';
import { getCatalogue } from '@/lib/store/parts';
import { balances } from '@/lib/store/stock';
import { ActionForm } from '@/lib/ui/forms';
import { Entry } from '@/lib/ui/shell';
import { Frame } from '../../../frame';

export const metadata: Metadata = { title: 'Count' };

/** The book's figure is not shown before the count: whoever knows it, finds it. */
export default async function Count({ params }: { params: Promise<{ part: string }> }) {
  const id = decodeURIComponent((await params).part);
  const member = await requireRight(`/parts/${id}/count`, 'write', 'stock');
  const part = (await getCatalogue()).catalogue.parts.find((p) => p.id === id);
  if (!part) notFound();
  const seen = (await balances())[id]?.last ?? 0;
  return (
    <Frame member={member} here="Parts" title={`Count ${part.name}`}>
      <Entry>
        <p className="soft">
          <a href={`/parts/${id}`}>{part.name}</a>
        </p>
        <h1>Count {part.name}</h1>
        <p className="soft">
          {part.place ? `${part.place}. ` : ''}Count everything that is there, reserved or not. What the book says is shown afterwards.
        </p>
        <ActionForm
          action={countAction}
          submit="Write down"
          fields={[
            { name: 'part', label: '', type: 'hidden', value: id },
            { name: 'seen', label: '', type: 'hidden', value: String(seen) },
            { name: 'token', label: '', type: 'hidden', value: newId() },
            { name: 'count', label: 'How many are there', type: 'number', required: true },
            { name: 'reason', label: 'Remark', hint: 'May stay empty' },
          ]}
        />
      </Entry>
    </Frame>
  );
}
