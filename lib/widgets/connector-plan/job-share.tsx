/** What this plan shares with the others of the page: the strip and its cuts, what is kept, what is not proved. */
import { housingName } from '@/lib/core/chart/views';
import type { JobShare } from '@/lib/core/harness';
import type { ConnectorPlan } from '@/lib/core/harness/types';
import { Fig } from '@/lib/ui/blocks';
import { CutStrip, stripInWords } from '@/lib/ui/drawings';
import { listed } from '@/lib/ui/words';
import { plansFor } from './plan-words';

/** The strip of several housings, or of several board headers. */
export function SharedStrip({ share, nameOf }: { share: JobShare; nameOf: (id: string) => string }) {
  const { strip, place, others, first } = share;
  const drawing = { strip, own: place.id, nameOf };
  const counted = first === place.id ? 'Counted in this plan.' : `Counted in the plan for ${nameOf(first)}.`;
  return (
    <Fig caption={`${stripInWords(strip)} Shared with ${plansFor(others.map(nameOf))}. ${counted}`}>
      <div className="wide-form">
        <CutStrip {...drawing} />
      </div>
      <div className="narrow-form">
        <CutStrip {...drawing} narrow />
      </div>
    </Fig>
  );
}

/** How the page's job stands: proved or not, and the offcuts that go back to stock. */
export function JobNote({ plan: { job } }: { plan: ConnectorPlan }) {
  const shares = [job?.housing ?? [], job?.header ?? []].flat();
  if (shares.length === 0) return null;
  const gaps = shares.map((s) => s.gap).filter(Boolean);
  const kept = timesEach(shares.flatMap((s) => s.kept));
  return (
    <p className="note soft after-figure">
      Planned together with the other connectors of this page:{' '}
      {gaps.length === 0 ? 'no other way of cutting and buying costs less.' : <b>{gaps.join(' ')}</b>}
      {kept.length > 0 && ` Back to the drawer: ${listed(kept)}.`}
    </p>
  );
}

const timesEach = (items: string[]): string[] =>
  [...new Set(items)].map((item) => {
    const times = items.filter((other) => other === item).length;
    return times > 1 ? `${times} × ${item}` : item;
  });

/** The new board header, when it comes from a strip with others. */
export function SharedHeader({ plan: { newHeader } }: { plan: ConnectorPlan }) {
  const share = newHeader?.share;
  if (!share || share.others.length === 0) return null;
  return (
    <>
      <h3>New header</h3>
      <p>
        One {newHeader.part}, {newHeader.name}, serves this plan and {plansFor(share.others.map(housingName))}.
      </p>
      <SharedStrip share={share} nameOf={(id) => id} />
    </>
  );
}
