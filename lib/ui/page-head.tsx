/** Above a page's title: its machine, its day, its wires, and what can be done with it. */
import type { ReactNode } from 'react';
import type { Chart } from '@/lib/core/chart/types';
import type { Fact } from '@/lib/notebook/types';
import { WireChip } from './drawings';

export function PageHead({ chart, on, facts, children }: { chart: Chart | null; on: string; facts: Fact[]; children: ReactNode }) {
  const wires = facts.filter((f) => f.kind === 'wire').slice(0, 4);
  return (
    <div className="page-head no-print">
      <p className="sub">
        {chart && (
          <span>
            <a href={`/machines/${chart.machine.id}`}>
              <b>{chart.title}</b>
            </a>
          </span>
        )}
        <span>{on}</span>
        {wires.map((w) => (
          <span key={w.value} className="only-phone">
            <WireChip colour={w.value} />
          </span>
        ))}
      </p>
      <div className="actions">{children}</div>
    </div>
  );
}
