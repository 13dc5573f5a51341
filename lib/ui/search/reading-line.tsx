/** How a search was understood, and how its reader puts that right: each term can be struck out, another sign or device named. */
import symptoms from '@/content/symptoms.json';
import type { Term } from '@/lib/core/symptom/types';
import { type AskedSearch, askedAs, without } from '@/lib/search/address';
import { termKey } from '@/lib/search/correct';
import type { SearchResponse } from '@/lib/search/types';
import { WireChip } from '../drawings';

const shownKinds = new Set<Term['kind']>(['device', 'name', 'side', 'does', 'extent', 'when', 'quote']);

/** Signs and devices in words, and those words that nothing else stands for. */
export function shownTerms(terms: Term[]): Term[] {
  const signs = terms.filter((t) => shownKinds.has(t.kind));
  const told = new Set(signs.flatMap((t) => [...t.text.toLowerCase().split(/\s+/), t.side ?? '']));
  const words = terms.filter((t) => t.kind === 'word' && !told.has(t.text.toLowerCase()));
  return [...signs.filter((t) => !t.implied || t.value !== 'one'), ...words];
}

const sure = 0.6;
const wordsOf = (t: Term): string =>
  [
    t.without && 'not',
    t.kind === 'does' && t.chance !== undefined && t.chance < sure && 'perhaps',
    t.kind === 'device'
      ? [t.side, t.label].filter(Boolean).join(' ')
      : t.kind === 'word'
        ? `“${t.label}”`
        : t.kind === 'name'
          ? t.text.toLowerCase()
          : t.label,
  ]
    .filter(Boolean)
    .join(' ');

/** Terms that read the same stand once: a device, and a name on a chart that is called like it. */
export function readAlike(terms: Term[]): { words: string; terms: Term[] }[] {
  const alike = new Map<string, Term[]>();
  for (const t of terms) alike.set(wordsOf(t), [...(alike.get(wordsOf(t)) ?? []), t]);
  return [...alike].map(([words, terms]) => ({ words, terms }));
}

const choices = [
  { kind: 'does', label: 'What it does', from: symptoms.does },
  { kind: 'extent', label: 'How many', from: [{ id: 'one', name: 'one' }, ...symptoms.extent] },
  { kind: 'when', label: 'When', from: symptoms.when },
  { kind: 'device', label: 'Which device', from: symptoms.devices },
] as const;

export function ReadingLine({ found, asked }: { found: SearchResponse; asked: AskedSearch }) {
  const terms = shownTerms(found.reading.terms);
  if (terms.length === 0 && found.clues.length === 0) return null;
  return (
    <section className="reading" aria-label="How this was read">
      <ul>
        <li className="soft">Read as</li>
        {found.clues
          .filter((c) => c.text)
          .map((c) => (
            <li key={`${c.as} ${c.value}`}>{c.as === 'wire' ? <WireChip colour={c.value} /> : c.label}</li>
          ))}
        {readAlike(terms).map(({ words, terms: alike }) => (
          <li key={words}>
            {words}
            {alike[0]?.slip && <span className="soft"> for “{alike[0].slip}”</span>}
            <a href={`/search?${askedAs(alike.map(termKey).reduce(without, asked))}`} aria-label={`Not meant: ${words}`} title="Not meant">
              ×
            </a>
          </li>
        ))}
      </ul>
      <details>
        <summary>Meant otherwise</summary>
        <form action="/search" className="form quiet">
          {[...new URLSearchParams(askedAs(asked))].map(([name, value]) => (
            <input key={`${name} ${value}`} type="hidden" name={name} value={value} />
          ))}
          {choices.map(({ kind, label, from }) => (
            <label key={kind} className="form-field">
              <span>{label}</span>
              <select name="as" defaultValue="">
                <option value="">As read</option>
                {from.map(({ id, name }) => (
                  <option key={id} value={`${kind}:${id}`}>
                    {name}
                  </option>
                ))}
              </select>
            </label>
          ))}
          <button type="submit" className="btn">
            Search again
          </button>
        </form>
        {asked.not.length + asked.as.length > 0 && (
          <p>
            <a href={`/search?${askedAs({ ...asked, not: [], as: [] })}`}>As it was read at first</a>
          </p>
        )}
      </details>
    </section>
  );
}
