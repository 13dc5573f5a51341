/** The expected net list: which positions measure together, and which connect by right through something. */

import { Fragment } from 'react';
import type { ConnectorPlan } from '@/lib/core/harness/types';
import { listed } from '@/lib/ui/words';
import { atPosition } from './plan-words';

export function Groups({ plan }: { plan: ConnectorPlan }) {
  if (plan.groups.length === 0) return null;
  const at = (positions: number[]) => listed(positions.map((position) => atPosition(plan, position)));
  const together = plan.groups.filter((g) => g.positions.length > 1);
  const alone = plan.groups.filter((g) => g.positions.length === 1).flatMap((g) => g.positions);
  return (
    <section>
      <h3>Groups</h3>
      <dl className="record">
        {together.map((g) => (
          <Fragment key={g.net}>
            <dt>{g.label}</dt>
            <dd>{at(g.positions)} together</dd>
          </Fragment>
        ))}
        {alone.length > 0 && (
          <>
            <dt>Each by itself</dt>
            <dd>{at(alone)}</dd>
          </>
        )}
        {plan.links.map((link) => (
          <Fragment key={link.why}>
            <dt>By right</dt>
            <dd>
              {at(link.positions)} {link.why}
            </dd>
          </Fragment>
        ))}
      </dl>
      <p className="note soft after-figure">Measure with the housing off the header. Every pair that is not named together is apart.</p>
    </section>
  );
}
