import type { Metadata } from 'next';
import { redirect } from 'next/navigation';
import { importAction } from '@/app/actions/import';
import { type Choice, previewArchive, type Row } from '@/lib/archive/preview';
import { readArchive } from '@/lib/archive/read';
import { shelved } from '@/lib/archive/shelf';
import { ActionForm, type FieldSpec } from '@/lib/ui/forms';
import { Entry, LinkButton, Widget } from '@/lib/ui/shell';
import { day } from '@/lib/ui/words';
import { requireRight } from '../../../../member';
import { Frame } from '../../../frame';

export const metadata: Metadata = { title: 'Bring an archive in' };
const kindWords = {
  design: 'Board design',
  machine: 'Machine',
  part: 'Part',
  page: 'Page',
  pictures: 'Pictures',
  stock: 'Stock',
  thesaurus: 'Thesaurus',
  letterhead: 'Letterhead',
} as const;
const choiceWords: Record<Choice, string> = { keep: 'Keep ours', both: 'Have both', replace: 'Take theirs' };
const largeBytes = 200e6;
const scopeWords = { page: 'One page', machine: 'One machine', club: 'The whole club' } as const;

/** What the archive would add, what is here already, and what to decide. */
export default async function Look({ params }: { params: Promise<{ file: string }> }) {
  const { file } = await params;
  const member = await requireRight(`/club/import/${file}`, 'manage', 'club');
  const source = shelved(file);
  if (!source) redirect('/club/import?why=gone');
  const read = readArchive(source);
  const preview = read.ok ? await previewArchive(read.archive) : read;
  return (
    <Frame member={member} here="Club" title="Bring an archive in">
      <Entry>
        <h1>Bring an archive in</h1>
        {!read.ok || !preview.ok ? (
          <>
            <p className="form-message" role="alert">
              {preview.ok ? '' : `${preview.message} ${preview.mend}`} Nothing was kept.
            </p>
            <LinkButton href="/club/import">Choose another file</LinkButton>
          </>
        ) : (
          <>
            <p className="sub">
              <span>{scopeWords[read.archive.manifest.scope]}</span>
              {read.archive.manifest.club && <span>from {read.archive.manifest.club}</span>}
              <span>{day(read.archive.manifest.madeAt)}</span>
            </p>
            <p>
              {of(preview.rows, 'new').length} new, {of(preview.rows, 'same').length} the same here, {of(preview.rows, 'conflict').length}{' '}
              otherwise here.
            </p>
            <Rows title="New" rows={of(preview.rows, 'new')} />
            <Rows title="The same here" rows={of(preview.rows, 'same')} />
            <Rows title="Otherwise here" rows={of(preview.rows, 'conflict')} />
            {source.size > largeBytes && (
              <p className="soft">
                It is large ({(source.size / 1e9).toFixed(1)} GB): bringing it in takes minutes. Press once and keep this window open. If it
                is cut off, bring the archive again: what is here already is passed over.
              </p>
            )}
            <ActionForm
              action={importAction}
              submit="Bring it in"
              fields={[{ name: 'file', label: '', type: 'hidden', value: file }, ...asked(preview.rows)]}
            />
          </>
        )}
      </Entry>
    </Frame>
  );
}

const of = (rows: Row[], state: Row['state']) => rows.filter((row) => row.state === state);

const asked = (rows: Row[]): FieldSpec[] =>
  of(rows, 'conflict')
    .filter((row) => row.choices.length > 1)
    .map((row) => ({
      name: `choice ${row.key}`,
      label: `${kindWords[row.kind]} ${row.title}`,
      type: 'select',
      value: 'keep',
      options: row.choices.map((value) => ({ value, label: choiceWords[value] })),
    }));

function Rows({ title, rows }: { title: string; rows: Row[] }) {
  if (rows.length === 0) return null;
  return (
    <Widget title={`${title}: ${rows.length}`}>
      <details>
        <summary>Which</summary>
        <ul className="rows">
          {rows.map((row) => (
            <li key={row.key}>
              <span>
                <b>{row.title}</b> <span className="soft">{kindWords[row.kind]}</span>
              </span>
            </li>
          ))}
        </ul>
      </details>
    </Widget>
  );
}
