'use client';
/** Cells that two people changed in different ways: both values in words, and which one holds. */
import { useId, useState } from 'react';
import { Button } from '../controls';
import type { Choice } from './rebase';
import type { Conflicted } from './use-entry';

const words = (value: unknown): string =>
  value === undefined ? 'nothing' : typeof value === 'object' ? JSON.stringify(value) : `“${String(value)}”`;

export function ConflictPanel({ conflict, onSettle }: { conflict: Conflicted; onSettle(choices: readonly Choice[]): void }) {
  const id = useId();
  const { conflicts, words: said } = conflict;
  const [choices, setChoices] = useState<readonly (Choice | null)[]>(() => conflicts.map(() => null));
  const open = conflicts.filter((_, i) => !choices[i]).length;
  return (
    <section className="notice" role="alert" aria-label="Changed by two people">
      <h3>Somebody else saved meanwhile</h3>
      {conflicts.length === 0 ? (
        <>
          <p>Both changes fit by themselves, but not together:</p>
          <ul className="problems">
            {said.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </>
      ) : (
        <p>All that only one of you changed is joined. In these cells you have to say which one holds.</p>
      )}
      {conflicts.map((c, i) => (
        <fieldset key={c.path.join(' ')} className="ask-one">
          <legend>{c.label}</legend>
          <p className="soft note">Before it was {words(c.base)}.</p>
          <div className="choices">
            {(['mine', 'theirs'] as const).map((choice) => (
              <label key={choice}>
                <input
                  type="radio"
                  name={`${id}-${i}`}
                  checked={choices[i] === choice}
                  onChange={() => setChoices((all) => all.map((old, j) => (j === i ? choice : old)))}
                />
                {choice === 'mine' ? 'Yours' : 'Theirs'}: {words(c[choice])}
              </label>
            ))}
          </div>
        </fieldset>
      ))}
      <p className="actions">
        <Button fill disabled={open > 0} onClick={() => onSettle(choices.map((c) => c ?? 'theirs'))}>
          {conflicts.length === 0 ? 'Put mine on theirs and look' : 'Join them so'}
        </Button>
        {open > 0 && <span className="soft note">{open} still to choose</span>}
      </p>
    </section>
  );
}
