/** Past fixes and the circuit itself, as a search shows them. */
import type { SearchResponse, SearchResult } from '@/lib/search/types';
import { Loom, WireChip } from '../drawings';
import { day, duration } from '../words';

const mostReasons = 5;

export function FixResult({ r }: { r: SearchResult }) {
  return (
    <article className="result">
      <div className="loomed">
        <Loom colours={r.wires} />
        <h3>
          <a href={`/pages/${r.page}`}>{r.title}</a>
        </h3>
        {(r.cause || r.place) && (
          <p>
            <b>{r.cause}</b> {r.place && <span className={/^A\d+J\d+-\d+$/.test(r.place) ? 'mono' : undefined}>{r.place}</span>}
          </p>
        )}
        <p>{r.excerpt}</p>
        <p className="why">{r.why.slice(0, mostReasons).join(' · ')}</p>
      </div>
      <p className="meta">
        {r.machine || 'No machine'}
        <br />
        {day(r.on)}
        <br />
        {[r.by, r.minutes ? duration(r.minutes) : '', r.state === 'open' ? 'open' : ''].filter(Boolean).join(', ')}
      </p>
    </article>
  );
}

export function CircuitAnswers({ answers, query }: { answers: SearchResponse['answers']; query: string }) {
  if (answers.length === 0) return null;
  return (
    <section className="answers" aria-label="The circuit itself">
      {answers.map((a) => (
        <article key={`${a.machineId} ${a.kind} ${a.id}`} className="clue-answer">
          <h2>
            <a
              href={`/machines/${a.machineId}?${a.kind === 'circuit' ? `circuit=${encodeURIComponent(a.id)}` : `clue=${encodeURIComponent(query)}`}#ask`}
            >
              {a.title}
            </a>
          </h2>
          <p className="soft">{a.machine}</p>
          <p className="wires">
            {a.wires.map((w) => (
              <WireChip key={w} colour={w} />
            ))}
            <span className="mono">{a.pins.join(', ')}</span>
          </p>
          <p className="note soft">{a.reason}</p>
        </article>
      ))}
    </section>
  );
}
