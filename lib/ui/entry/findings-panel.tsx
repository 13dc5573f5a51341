'use client';
/** All that the check found; pressing one goes to its cell. */
import { useState } from 'react';
import { Button } from '../controls';
import { count } from './paste-words';
import type { CellFinding } from './types';

const levels = [
  {
    level: 'error',
    one: 'error',
    many: 'errors',
    about: 'The chart contradicts itself, or a row is not complete. Widgets say what they could not trust.',
  },
  { level: 'warning', one: 'warning', many: 'warnings', about: 'Possible, but more often a slip of the pen.' },
  { level: 'information', one: 'thing worth knowing', many: 'things worth knowing', about: 'Nothing to mend.' },
] as const;
const mostShown = 50;

export interface FindingsPanelProps {
  findings: readonly CellFinding[];
  /** The table and row in words. */
  whereOf(finding: CellFinding): string;
  onGo(finding: CellFinding): void;
}

export function FindingsPanel({ findings, whereOf, onGo }: FindingsPanelProps) {
  const [all, setAll] = useState(false);
  if (findings.length === 0) return <p className="soft">The check finds nothing.</p>;
  return levels.map(({ level, one, many, about }) => {
    const own = findings.filter((f) => f.level === level);
    if (own.length === 0) return null;
    const shown = all ? own : own.slice(0, mostShown);
    return (
      <details key={level} open={level === 'error'}>
        <summary>{count(own.length, one, many)}</summary>
        <p className="note soft">{about}</p>
        <ul className="go-list">
          {shown.map((f, i) => (
            <li key={`${f.rule} ${f.path} ${i}`}>
              <button type="button" className="pick" onClick={() => onGo(f)}>
                <b>{f.message}</b>
                <span>
                  {f.mend} <span className="soft">{whereOf(f)}</span>
                </span>
              </button>
            </li>
          ))}
        </ul>
        {own.length > shown.length && <Button onClick={() => setAll(true)}>Show all {own.length}</Button>}
      </details>
    );
  });
}
