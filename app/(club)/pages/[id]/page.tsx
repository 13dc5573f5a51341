import type { Metadata } from 'next';
import { removePageAction } from '@/app/actions/pages';
import { can } from '@/lib/access/can';
import { seenBefore } from '@/lib/search/search';
import { getPage } from '@/lib/store/pages';
import { picturesHeldBy } from '@/lib/store/picture-holders';
import { ActionForm } from '@/lib/ui/forms';
import { PageHead } from '@/lib/ui/page-head';
import { marginSummary, PageMargin } from '@/lib/ui/page-margin';
import { PageProse } from '@/lib/ui/page-prose';
import { LinkButton, SaveSign } from '@/lib/ui/shell';
import { day } from '@/lib/ui/words';
import { requireRight } from '../../../member';
import { Frame } from '../../frame';
import { loadPage } from './load';

type Props = { params: Promise<{ id: string }> };

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: (await getPage((await params).id))?.title ?? 'Not here' };
}

/** The page for reading: no editor, no scripts needed. */
export default async function PageRead({ params }: Props) {
  const { id } = await params;
  const member = await requireRight(`/pages/${id}`, 'read', 'page');
  const { page, content, chart, evaluated } = await loadPage(id);
  const [seen, pictures] = await Promise.all([seenBefore(id, 4), picturesHeldBy({ page: id })]);
  return (
    <Frame
      member={member}
      here="Bench"
      title={evaluated.title}
      margin={<PageMargin page={evaluated} chart={chart} seen={seen} />}
      bar={marginSummary(evaluated, seen)}
      state={<SaveSign state="reading">{page.state === 'open' ? 'Open' : 'Mended'}</SaveSign>}
    >
      <PageHead chart={chart} on={day(page.on)} facts={evaluated.facts}>
        <LinkButton href={`/pages/${id}/write`} fill warm>
          {can(member, 'write', 'page') ? 'Write' : 'Watch live'}
        </LinkButton>
        <LinkButton href={`/pages/${id}/write-up`}>Write-up</LinkButton>
        <LinkButton href={`/pages/${id}/parts`}>Parts</LinkButton>
        <LinkButton href={`/pages/${id}/history`}>History</LinkButton>
      </PageHead>
      <PageProse content={content} page={evaluated} id={id} />
      <details className="chart-files no-print">
        <summary>Take it away as files</summary>
        <p className="note soft">The archive holds the page as Markdown and exactly, with the charts and parts that it is computed from.</p>
        <ul className="press">
          <li>
            <a href={`/pages/${id}/archive`} download>
              Archive (ZIP)
            </a>
          </li>
          <li>
            <a href={`/pages/${id}/parts.csv`} download>
              Parts (CSV)
            </a>
          </li>
        </ul>
      </details>
      {can(member, 'remove', 'file') && pictures.length > 0 && (
        <p className="no-print">
          <a href={`/pictures?page=${id}`}>Pictures of this page, also those of its history</a>
        </p>
      )}
      {can(member, 'remove', 'page') && (
        <details className="remove-page no-print">
          <summary>Remove this page</summary>
          <p>It leaves every list and the search, and its links stop working. What was written is kept in the log.</p>
          <ActionForm
            action={removePageAction}
            submit="Remove it"
            quiet
            fields={[{ name: 'page', label: '', type: 'hidden', value: id }]}
          />
        </details>
      )}
    </Frame>
  );
}
