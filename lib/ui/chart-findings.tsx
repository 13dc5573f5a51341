/** What the lint found in a chart, the levels apart: what must be mended, what is likely a slip, what is worth knowing. */
import type { Finding } from '@/lib/core/chart/types';
import { Notice } from './blocks';

const levels: { level: Finding['level']; one: string; many: string; about: string }[] = [
  {
    level: 'error',
    one: 'error',
    many: 'errors',
    about: 'The chart contradicts itself, or leaves open what work depends on. Mend these first.',
  },
  {
    level: 'warning',
    one: 'warning',
    many: 'warnings',
    about: 'Possible, but more often a slip of the pen, or easily mixed up at the bench.',
  },
  { level: 'information', one: 'thing worth knowing', many: 'things worth knowing', about: 'Nothing to mend.' },
];

/** Nothing without findings. Only errors stand open. */
export function ChartFindings({ findings }: { findings: readonly Finding[] }) {
  if (findings.length === 0) return null;
  return (
    <Notice title="What the chart’s check found">
      {levels.map(({ level, one, many, about }) => {
        const found = findings.filter((f) => f.level === level);
        if (found.length === 0) return null;
        return (
          <details key={level} open={level === 'error'}>
            <summary>
              {found.length} {found.length === 1 ? one : many}
            </summary>
            <p className="note soft">{about}</p>
            <ul className="problems">
              {found.map((f) => (
                <li key={`${f.rule} ${f.path}`}>
                  <b>{f.message}</b>
                  <span>
                    {f.mend} <span className="mono soft note">{f.path}</span>
                  </span>
                </li>
              ))}
            </ul>
          </details>
        );
      })}
    </Notice>
  );
}
