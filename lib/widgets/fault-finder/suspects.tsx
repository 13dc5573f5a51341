/** The suspects with their share as ink and number; what cleared others; what the chart does not say; the cross-check. */
import { type Finding, faultName } from '@/lib/core/diagnosis';
import { Notice } from '@/lib/ui/blocks';
import { inkPercent, Swatch } from '@/lib/ui/drawings';

export function Suspects({ finding }: { finding: Finding }) {
  const { suspects, rest, standing } = finding;
  const known = standing === 'found' || standing === 'ahead';
  return (
    <section>
      <h3>Suspects</h3>
      <ol className="suspects">
        {suspects.map(({ id, name, detail, how, share, mend }, rank) => (
          <li key={id}>
            <Swatch share={share} />
            <b className="share">{inkPercent(share)}</b>
            <span>
              <b>{name}</b>
              <small>{[how, detail].filter(Boolean).join('; ')}</small>
              {mend && rank === 0 && known && <small>To mend it: {mend}</small>}
            </span>
          </li>
        ))}
        {rest.places > 0 && (
          <li>
            <Swatch share={rest.share} />
            <b className="share">{inkPercent(rest.share)}</b>
            <span>
              <b>All else</b>
              <small>
                {rest.places} {rest.places === 1 ? 'place' : 'places'}
              </small>
            </span>
          </li>
        )}
      </ol>
      {moreThanAll(finding) && <p className="note soft">Two things can be at fault at once, so these add up to more than 100 %.</p>}
    </section>
  );
}

/** Shares of places, not of explanations: a pair counts at both. */
const moreThanAll = ({ suspects, rest }: Finding) => suspects.reduce((sum, { share }) => sum + share, rest.share) > 1.05;

/** Observations that fit nothing. Said before any suspect. */
export function Oddities({ finding }: { finding: Finding }) {
  if (finding.odd.length === 0) return null;
  return (
    <Notice title="This does not fit">
      {finding.odd.map(({ what, mend }) => (
        <p key={what}>
          {what} <b>{mend}</b>
        </p>
      ))}
    </Notice>
  );
}

const many = (n: number) => (n === 1 ? '1 set' : `${n} sets`);

export function CrossCheck({ finding, nameOf }: { finding: Finding; nameOf: (element: string) => string }) {
  const { breaks, cleared, notes } = finding;
  if (breaks.length + cleared.length + notes.length === 0) return null;
  const shown = breaks.slice(0, 3).map((set) => set.map(nameOf).join(' with '));
  return (
    <ul className="finder-notes">
      {cleared.map((line) => (
        <li key={line}>{line}</li>
      ))}
      {breaks.length > 0 && (
        <li>
          By hard breaks alone: {shown.join('; or ')}
          {breaks.length > shown.length && `; or ${many(breaks.length - shown.length)} more`}. This check is blind to shorts and to what
          comes and goes.
        </li>
      )}
      {notes.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}

/** What to write into the page's fix record; one widget never writes into another. */
export function ForTheRecord({ finding, circuits }: { finding: Finding; circuits: readonly string[] }) {
  const [top] = finding.suspects;
  if (!top || (finding.standing !== 'found' && finding.standing !== 'ahead')) return null;
  return (
    <section className="for-record">
      <h3>For the fix record</h3>
      <p className="soft">{finding.standing === 'found' ? 'Once it is mended and proved.' : 'If the next test, or the mend, proves it.'}</p>
      <dl className="record">
        <dt>Cause</dt>
        <dd>{faultName(top.fault)}</dd>
        <dt>Place</dt>
        <dd className="mono">{top.place}</dd>
        {circuits.length > 0 && (
          <>
            <dt>Circuits</dt>
            <dd className="mono">{circuits.join(', ')}</dd>
          </>
        )}
      </dl>
    </section>
  );
}
