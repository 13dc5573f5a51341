/** A board design: its boards, connectors and lines, and the machines that have it. */
import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { findingsIn } from '@/app/findings';
import { can } from '@/lib/access/can';
import { photosOfDesign } from '@/lib/core/chart/pinned';
import { positionsWords } from '@/lib/core/harness/pin-rows';
import { progressOf } from '@/lib/search/dependents';
import { getDesign, listMachines } from '@/lib/store/machines';
import { ChartFindings } from '@/lib/ui/chart-findings';
import { DesignLines } from '@/lib/ui/design-lines';
import { Entry, LinkButton, Widget } from '@/lib/ui/shell';
import { listed } from '@/lib/ui/words';
import { requireMember } from '../../../member';
import { PhotoStrip, removedOf } from '../../charts/photos';
import { Frame } from '../../frame';

type Props = { params: Promise<{ id: string }> };

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const found = await getDesign((await params).id);
  return { title: found ? `Board design ${found.design.id}` : 'No such board design' };
}

export default async function DesignPage({ params }: Props) {
  const { id } = await params;
  const member = await requireMember(`/designs/${id}`);
  const { design, version } = (await getDesign(id)) ?? notFound();
  const [findings, machines, progress] = await Promise.all([findingsIn(design), listMachines(), progressOf('design', id)]);
  const photos = photosOfDesign(design);
  const mayWrite = can(member, 'write', 'machine');
  const users = machines.filter((m) => m.design === design.id);
  return (
    <Frame member={member} here="Machines" title={`Board design ${design.id}`}>
      <Entry>
        <h1>Board design {design.id}</h1>
        <p className="sub">
          <span>{design.name}</span>
          {design.boards.map((b) => (
            <span key={b.designator}>
              {b.name} <b className="mono">{b.designator}</b>
            </span>
          ))}
        </p>
        <p className="actions">
          {mayWrite && <LinkButton href={`/designs/${id}/enter`}>Enter lines and headers</LinkButton>}
          <LinkButton href={`/designs/${id}/versions`}>Versions, compare</LinkButton>
          {can(member, 'create', 'machine') && <LinkButton href={`/designs/${id}/copy`}>Copy this design</LinkButton>}
        </p>
        <p className="soft">
          Version {version}.{' '}
          {progress.left > 0 && `It was changed: ${progress.pages - progress.left} of ${progress.pages} pages are computed again.`}
        </p>
        <ChartFindings findings={findings} />
        <Widget title="Machines that have it" id="machines">
          {users.length === 0 ? (
            <p className="soft">None yet.</p>
          ) : (
            <ul className="rows">
              {users.map((m) => (
                <li key={m.id}>
                  <a href={`/machines/${m.id}`}>
                    <b>{m.title}</b>
                    <span className="soft">{m.sort}</span>
                  </a>
                </li>
              ))}
            </ul>
          )}
        </Widget>
        <Widget title="Connectors" id="connectors">
          {design.headers.length === 0 ? (
            <p className="soft">No header is entered yet.</p>
          ) : (
            <table className="stack">
              <thead>
                <tr>
                  <th>Header</th>
                  <th>Name</th>
                  <th>Positions</th>
                  <th>Key</th>
                </tr>
              </thead>
              <tbody>
                {design.headers.map((h) => (
                  <tr key={h.id}>
                    <td className="mono">{h.id}</td>
                    <td>{h.name}</td>
                    <td>
                      {positionsWords(h)}, {h.pitchMm} mm
                    </td>
                    <td data-h="key">{h.keys.length > 0 ? listed(h.keys) : 'none'}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          )}
        </Widget>
        <Widget title="On photos" id="photos" tools={mayWrite && <LinkButton href={`/designs/${id}/photos/add`}>Add a photo</LinkButton>}>
          <PhotoStrip
            photos={photos}
            marks={{}}
            removed={await removedOf(photos)}
            path={`/designs/${id}`}
            design={id}
            mayWrite={mayWrite}
          />
        </Widget>
        <Widget title="Lines" id="lines">
          {design.nets.length === 0 ? <p className="soft">No line is entered yet.</p> : <DesignLines design={design} />}
        </Widget>
        {design.notes && (
          <Widget title="Notes" id="notes">
            <p>{design.notes}</p>
          </Widget>
        )}
      </Entry>
    </Frame>
  );
}
