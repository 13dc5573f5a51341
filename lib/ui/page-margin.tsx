/** What stands in the margin of a page: only what was derived. The same on the reading page, in the editor and in the phone's drawer. */
import type { Chart } from '@/lib/core/chart/types';
import type { EvaluatedPage, Fact } from '@/lib/notebook/types';
import type { SearchResult } from '@/lib/search/types';
import { WireChip } from './drawings';

const ofKind = (facts: Fact[], kind: Fact['kind']) => facts.filter((f) => f.kind === kind);

interface MarginProps {
  page: EvaluatedPage;
  chart: Chart | null;
  seen: SearchResult[];
  /** What to know about `seen`, such as how old it is. */
  seenNote?: string | undefined;
}

export function PageMargin({ page, chart, seen, seenNote }: MarginProps) {
  const circuits = ofKind(page.facts, 'circuit');
  const headers = ofKind(page.facts, 'header');
  const wires = ofKind(page.facts, 'wire');
  return (
    <>
      <h4>This page touches</h4>
      <ul>
        {chart && (
          <li>
            <a href={`/machines/${chart.machine.id}`}>{chart.title}</a>
          </li>
        )}
        {circuits.map((f) => (
          <li key={f.value}>
            {chart ? <a href={`/machines/${chart.machine.id}?circuit=${encodeURIComponent(f.value)}`}>{f.label}</a> : f.label}
          </li>
        ))}
        {wires.map((f) => (
          <li key={f.value}>
            <WireChip colour={f.value} />
          </li>
        ))}
        {headers.length > 0 && (
          <li className="mono">
            {headers.map((f, i) => (
              <span key={f.value}>
                {i > 0 && ' '}
                {chart ? <a href={`/machines/${chart.machine.id}?header=${f.value}`}>{f.value}</a> : f.value}
              </span>
            ))}
          </li>
        )}
        {chart && (
          <li>
            Board design <span className="mono">{chart.design.id}</span>
          </li>
        )}
        {!chart && circuits.length === 0 && <li className="soft">No machine</li>}
      </ul>
      {page.progress.length > 0 && (
        <>
          <h4>Open ticks</h4>
          <ul>
            {page.progress.map((p) => (
              <li key={`${p.widget}-${p.label}`} className="tickline">
                <a href={`#w-${p.widget}`}>{p.label}</a>
                <span>
                  {p.done} of {p.of}
                </span>
              </li>
            ))}
          </ul>
        </>
      )}
      <h4>Seen before</h4>
      {seen.length === 0 ? (
        <p className="soft">Nothing like it yet</p>
      ) : (
        <ul>
          {seen.map((r) => (
            <li key={r.page} className="quote">
              <b>
                <a href={`/pages/${r.page}`}>{r.title}</a>
              </b>
              {[r.cause, r.place && `at ${r.place}`].filter(Boolean).join(' ')} <em>{r.why.slice(0, 2).join(', ')}</em>
            </li>
          ))}
        </ul>
      )}
      {seenNote && <p className="soft">{seenNote}</p>}
    </>
  );
}

/** One line for the drawer's handle on a phone. */
export function marginSummary(page: EvaluatedPage, seen: SearchResult[]): string {
  const open = page.progress.reduce((n, p) => n + p.of - p.done, 0);
  return (
    [open > 0 ? `${open} open` : '', seen.length > 0 ? `seen before ${seen.length}×` : ''].filter(Boolean).join(', ') ||
    'what this page touches'
  );
}
