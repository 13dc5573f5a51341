/** What a touched wire may be: the answer in a sentence, what spoils it, and every wire that may be it with how sure. */
import type { SampledAnswer, SampledWire } from '@/lib/core/lookup';
import { inkPercent } from '../drawings/ink';
import { WireChip } from '../drawings/sample';

const shown = 8;
const least = 0.005;

export function SampledList({ answer, onPick }: { answer: SampledAnswer; onPick?: (wire: SampledWire) => void }) {
  const { wires, warnings, words, sure } = answer;
  const worth = wires.filter(({ share }) => share === null || share >= least);
  const rows = sure === 'unsure' ? wires : worth.slice(0, shown);
  return (
    <div className="sampled">
      <p className="lead" role="status">
        {words}
      </p>
      {warnings.length > 0 && (
        <ul className="problems">
          {warnings.map(({ message, mend }) => (
            <li key={message}>
              <b>{message}</b>
              <span>{mend}</span>
            </li>
          ))}
        </ul>
      )}
      {rows.length > 0 && sure !== 'none' && (
        <ul className="picks">
          {rows.map((row) => {
            const { wire, labels, pins, share, difference } = row;
            const inside = (
              <>
                <b>
                  <WireChip colour={wire} /> {share !== null && <span className="sampled-share">{inkPercent(share)}</span>}
                </b>
                <span>{[labels.join(', '), pins.join(', '), `${Math.round(difference)} apart (CIEDE2000)`].join('; ')}</span>
              </>
            );
            return (
              <li key={wire}>
                {onPick ? (
                  <button type="button" className="pick" onClick={() => onPick(row)}>
                    {inside}
                  </button>
                ) : (
                  <div className="pick">{inside}</div>
                )}
              </li>
            );
          })}
        </ul>
      )}
    </div>
  );
}
