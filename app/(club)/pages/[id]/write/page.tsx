import type { Metadata } from 'next';
import * as Y from 'yjs';
import { can } from '@/lib/access/can';
import { live } from '@/lib/live/house';
import { seenBefore } from '@/lib/search/search';
import { getPage } from '@/lib/store/pages';
import { LiveEditor } from '@/lib/ui/editor/live-editor';
import { LiveMargin } from '@/lib/ui/editor/live-margin';
import { LeaveGuard, LiveSign } from '@/lib/ui/editor/live-sign';
import { LiveSession } from '@/lib/ui/editor/session';
import { PageHead } from '@/lib/ui/page-head';
import { marginSummary, PageMargin } from '@/lib/ui/page-margin';
import { PageProse } from '@/lib/ui/page-prose';
import { LinkButton } from '@/lib/ui/shell';
import { day } from '@/lib/ui/words';
import { requireRight } from '../../../../member';
import { Frame } from '../../../frame';
import { loadPage } from '../load';

const mostStateBytes = 512 << 10;
/** The document itself, so that the screen can be written on before the socket is there, or without. */
function stateOf(doc: Y.Doc): string | null {
  const update = Y.encodeStateAsUpdate(doc);
  return update.length <= mostStateBytes ? Buffer.from(update).toString('base64') : null;
}

type Props = { params: Promise<{ id: string }> };

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  return { title: `Writing ${(await getPage((await params).id))?.title ?? ''}` };
}

/** The page live: everyone who has it open writes on the same sheet. Readers watch. */
export default async function PageWrite({ params }: Props) {
  const { id } = await params;
  const member = await requireRight(`/pages/${id}/write`, 'read', 'page');
  const { page, parts, catalogue, stock, reserved, record, removed, content, chart, evaluated } = await loadPage(id);
  const seen = await seenBefore(id, 4);
  return (
    <LiveSession
      data={{
        page: id,
        title: evaluated.title,
        state: await live().read(id, stateOf),
        member: { id: member.id, name: member.name },
        write: can(member, 'write', 'page'),
        machine: parts?.machine ?? null,
        design: parts?.design ?? null,
        catalogue,
        stock,
        reserved,
        record,
        removed,
      }}
    >
      <Frame
        member={member}
        here="Bench"
        title={evaluated.title}
        margin={<LiveMargin seen={{ results: seen, at: Date.now() }} waiting={<PageMargin page={evaluated} chart={chart} seen={seen} />} />}
        bar={marginSummary(evaluated, seen)}
        state={<LiveSign />}
      >
        <LeaveGuard />
        <PageHead chart={chart} on={day(page.on)} facts={evaluated.facts}>
          <LinkButton href={`/pages/${id}`}>{can(member, 'write', 'page') ? 'Done writing' : 'Stop watching'}</LinkButton>
          <LinkButton href={`/pages/${id}/write-up`}>Write-up</LinkButton>
        </PageHead>
        <LiveEditor waiting={<PageProse content={content} page={evaluated} id={id} busy />} />
      </Frame>
    </LiveSession>
  );
}
