/** What a plan needs: housing with its cut, terminals, keys, and what a crimp must hold. */
import { housingName } from '@/lib/core/chart/views';
import type { ConnectorPlan } from '@/lib/core/harness/types';
import { Fig } from '@/lib/ui/blocks';
import { Cut, cutInWords } from '@/lib/ui/drawings';
import { Holders } from '@/lib/ui/holders';
import { listed } from '@/lib/ui/words';
import type { Spoken } from './definition';
import { JobNote, SharedHeader, SharedStrip } from './job-share';
import { atPosition, housingWords } from './plan-words';

export function Supplies({ plan, spoken }: { plan: ConnectorPlan; spoken: readonly Spoken[] }) {
  const { housing, keys } = plan;
  const cut = housing.how === 'cut' && {
    from: housing.from,
    keep: housing.positions,
    lost: housing.lost,
    keys: plan.header.keys,
    pitchMm: plan.header.pitchMm,
    sawn: housing.cut === 'sawn',
  };
  return (
    <section>
      <h3>Housing</h3>
      <p>{housingWords(housing)}</p>
      {cut && (
        <Fig caption={cutInWords(cut)}>
          <div className="wide-form">
            <Cut {...cut} />
          </div>
          <div className="narrow-form">
            <Cut {...cut} narrow />
          </div>
        </Fig>
      )}
      {housing.how === 'shared' && <SharedStrip share={housing.share} nameOf={housingName} />}
      <SharedHeader plan={plan} />
      <JobNote plan={plan} />
      {keys.positions.length > 0 && (
        <p className="after-figure">
          Key at {listed(keys.positions.map((key) => atPosition(plan, key)))}:{' '}
          {keys.part && (
            <>
              plug <span className="mono">{keys.part}</span>, {keys.onHand} free.
            </>
          )}
          {!keys.part && (plan.half?.contacts === 'pins' ? 'no pin there.' : 'no plug of this pitch in the catalogue.')}
        </p>
      )}
      {plan.terminals.length > 0 && (
        <>
          <h3>Terminals</h3>
          <table className="stack">
            <thead>
              <tr>
                <th>Part</th>
                <th className="n">To fit</th>
                <th className="n">Spare</th>
                <th className="n">Samples</th>
                <th className="n">In all</th>
                <th className="n">Free</th>
              </tr>
            </thead>
            <tbody>
              {plan.terminals.map((t) => (
                <tr key={t.part}>
                  <td>
                    <span className="mono">{t.part}</span> <span className="note soft">{t.name}</span>
                  </td>
                  <td className="n" data-h="to fit">
                    {t.fitted}
                  </td>
                  <td className="n" data-h="spare">
                    {t.spare}
                  </td>
                  <td className="n" data-h="samples">
                    {t.samples}
                  </td>
                  <td className="n" data-h="in all">
                    <b>{t.total}</b>
                  </td>
                  <td className="n" data-h="free">
                    {t.onHand}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </>
      )}
      {spoken.length > 0 && (
        <>
          <h3>Reserved for other jobs</h3>
          <ul className="problems">
            {spoken.map(({ part, name, free, holders }) => (
              <li key={part}>
                <b>
                  {name}: {free} free
                </b>
                <span>
                  <Holders holders={holders} />
                </span>
              </li>
            ))}
          </ul>
        </>
      )}
      {plan.pullTests.length > 0 && (
        <>
          <h3>Pull test, on samples only</h3>
          <ul className="ruled pulls">
            {plan.pullTests.map((p) => (
              <li key={p.awg}>
                <span className="id">{p.awg} AWG</span>
                <span>
                  holds at least {p.newtons} N <span className="note soft">{p.standard}</span>
                  {p.beside.map((other) => (
                    <span key={other.standard} className="note soft row-note">
                      {other.newtons} N: {other.standard}
                    </span>
                  ))}
                </span>
              </li>
            ))}
            {plan.togetherTests.map((t) => (
              <li key={`together-${t.position}`}>
                <span className="id">at {atPosition(plan, t.position)}</span>
                <span>
                  {t.wires}: each by itself, against the force for {t.awg} AWG{t.newtons !== null && `, ${t.newtons} N`}{' '}
                  <span className="note soft">both in position {atPosition(plan, t.position)}</span>
                </span>
              </li>
            ))}
          </ul>
          <p className="note soft">A pull test destroys the crimp. On the harness there is only a tug by hand.</p>
        </>
      )}
    </section>
  );
}
