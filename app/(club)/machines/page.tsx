import type { Metadata } from 'next';
import { can } from '@/lib/access/can';
import { listDesigns, listMachines } from '@/lib/store/machines';
import { countPages } from '@/lib/store/pages';
import { Empty, Entry, LinkButton } from '@/lib/ui/shell';
import { requireMember } from '../../member';
import { Frame } from '../frame';

export const metadata: Metadata = { title: 'Machines' };

const machineCount = (n: number) => `${n} ${n === 1 ? 'machine' : 'machines'}`;

export default async function Machines() {
  const member = await requireMember('/machines');
  const [machines, designs, counts] = await Promise.all([listMachines(), listDesigns(), countPages()]);
  const enters = can(member, 'write', 'machine');
  return (
    <Frame member={member} here="Machines" title="Machines">
      <Entry>
        <h1>Machines</h1>
        {can(member, 'create', 'machine') && (
          <p className="actions">
            <LinkButton href="/machines/new" fill>
              New machine
            </LinkButton>
            <LinkButton href="/designs/new">New board design</LinkButton>
          </p>
        )}
        {machines.length === 0 ? (
          <Empty title="No machine yet">
            {designs.length === 0
              ? 'Begin with the boards of your machine: a board design is entered once and reused.'
              : 'Begin with a new machine on one of the board designs below.'}{' '}
            Scripts can put charts in too: <a href="/help">how to</a>.
          </Empty>
        ) : (
          <ul className="rows">
            {machines.map((m) => {
              const count = counts[m.id] ?? { open: 0, mended: 0 };
              return (
                <li key={m.id}>
                  <a href={`/machines/${m.id}`}>
                    <b>{m.title}</b>
                    <span className="soft">{m.sort}</span>
                  </a>
                  <span className="soft">
                    board design <span className="mono">{m.design}</span>
                  </span>
                  <span>
                    {count.open} open, {count.mended} mended
                    {enters && (
                      <>
                        {' '}
                        <a href={`/machines/${m.id}/enter`} aria-label={`Enter circuits of ${m.title}`}>
                          Enter circuits
                        </a>
                      </>
                    )}
                  </span>
                </li>
              );
            })}
          </ul>
        )}
        {designs.length > 0 && (
          <>
            <h2 className="section-head">Board designs</h2>
            <ul className="rows">
              {designs.map((d) => (
                <li key={d.id}>
                  {enters ? (
                    <a href={`/designs/${d.id}/enter`}>
                      <b>{d.id}</b>
                      <span className="soft">{d.name}</span>
                    </a>
                  ) : (
                    <span>
                      <b>{d.id}</b> {d.name}
                    </span>
                  )}
                  <span className="soft">version {d.version}</span>
                  <span>{machineCount(machines.filter((m) => m.design === d.id).length)}</span>
                </li>
              ))}
            </ul>
          </>
        )}
      </Entry>
    </Frame>
  );
}
