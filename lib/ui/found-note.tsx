/** A difference from the manual where its place is shown: both answers side by side, why, since when and who saw it, and its photo. */
import type { Deviation } from '@/lib/core/chart/schema';
import { WireChip } from './drawings';
import { FoundPhoto } from './found-photo';
import { seenWords } from './words';

/** `where` names the place, where the screen does not; `removed`: pictures that were removed for good. */
export function FoundNote({ found, where, removed }: { found: Deviation; where?: string; removed?: readonly string[] }) {
  return (
    <div className="found-here">
      {where && <h4>{where}</h4>}
      <dl className="both">
        <div>
          <dt>The manual says</dt>
          <dd>{found.manual}</dd>
        </div>
        <div>
          <dt>This machine has</dt>
          <dd>
            {found.here} {found.wire && <WireChip colour={found.wire} />}
            <FoundPhoto found={found} removed={found.photo !== undefined && removed?.includes(found.photo)} />
          </dd>
        </div>
      </dl>
      <p className="note soft">{seenWords(found)}</p>
    </div>
  );
}
