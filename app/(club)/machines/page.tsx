import type { Metadata } from 'next';
import { listMachines } from '@/lib/store/machines';
import { countPages } from '@/lib/store/pages';
import { Empty, Entry } from '@/lib/ui/shell';
import { requireMember } from '../../member';
import { Frame } from '../frame';

export const metadata: Metadata = { title: 'Machines' };

export default async function Machines() {
  const member = await requireMember('/machines');
  const [machines, counts] = await Promise.all([listMachines(), countPages()]);
  return (
    <Frame member={member} here="Machines" title="Machines">
      <Entry>
        <h1>Machines</h1>
        {machines.length === 0 ? (
          <Empty title="No machine yet">
            Put a chart in through the programming interface: <a href="/help">how to</a>. It is checked before it is kept.
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
                  </span>
                </li>
              );
            })}
          </ul>
        )}
      </Entry>
    </Frame>
  );
}
