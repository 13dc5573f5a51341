import type { Metadata } from 'next';
import { redirect } from 'next/navigation';
import { importAction } from '@/app/actions/import';
import { bringing } from '@/lib/archive/bringing';
import { type Choice, previewArchive, type Row } from '@/lib/archive/preview';
import { readArchive } from '@/lib/archive/read';
import { shelved } from '@/lib/archive/shelf';
import type { ZipSource } from '@/lib/archive/zip-source';
import { ActionForm, type FieldSpec } from '@/lib/ui/forms';
import { Entry, LinkButton, Widget } from '@/lib/ui/shell';
import { day } from '@/lib/ui/words';
import { requireRight } from '../../../../member';
import { Frame } from '../../../frame';
import { HowFar } from '../how-far';

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
  const now = bringing(file);
  return (
    <Frame member={member} here="Club" title="Bring an archive in">
      <Entry>
        <h1>Bring an archive in</h1>
        <div id="bringing" className="bringing" data-going={now?.state === 'going' ? '' : undefined}>
          {now && <HowFar bringing={now} />}
          {now?.state !== 'going' && <Offer file={file} source={source} />}
        </div>
      </Entry>
    </Frame>
  );
}

/** What the archive holds against what is here, and the form that brings it in. */
async function Offer({ file, source }: { file: string; source: ZipSource }) {
  const read = readArchive(source);
  const preview = read.ok ? await previewArchive(read.archive) : read;
  if (!read.ok || !preview.ok)
    return (
      <>
        <p className="form-message" role="alert">
          {preview.ok ? '' : `${preview.message} ${preview.mend}`} Nothing was kept.
        </p>
        <LinkButton href="/club/import">Choose another file</LinkButton>
      </>
    );
  const { manifest } = read.archive;
  const fresh = of(preview.rows, 'new');
  const same = of(preview.rows, 'same');
  const otherwise = of(preview.rows, 'conflict');
  const now = bringing(file);
  const isHere = now?.state === 'over' && now.outcome.ok && same.length === preview.rows.length;
  return (
    <>
      <p className="sub">
        <span>{scopeWords[manifest.scope]}</span>
        {manifest.club && <span>from {manifest.club}</span>}
        <span>{day(manifest.madeAt)}</span>
      </p>
      <p>
        {fresh.length} new, {same.length} the same here, {otherwise.length} otherwise here.
      </p>
      <Rows title="New" rows={fresh} />
      <Rows title="The same here" rows={same} />
      <Rows title="Otherwise here" rows={otherwise} />
      {source.size > largeBytes && (
        <p className="soft">
          It is large ({(source.size / 1e9).toFixed(1)} GB): bringing it in takes minutes. It goes on when this window is closed.
        </p>
      )}
      {isHere ? (
        <LinkButton href="/machines">To the machines</LinkButton>
      ) : (
        <ActionForm
          action={importAction}
          submit="Bring it in"
          fields={[{ name: 'file', label: '', type: 'hidden', value: file }, ...asked(preview.rows)]}
        />
      )}
    </>
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
