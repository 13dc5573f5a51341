/** The frame of every screen, and the parts that screens and widgets are set from. Server-rendered, no scripts needed. */
import type { ReactNode } from 'react';
import { BookMark, SaveIcon, type SaveState } from './drawings/icons';

export { Caution, Empty, Fig, Notice, TickBox, Widget } from './blocks';
export { Button, Field, LinkButton } from './controls';
export { Flip } from './flip';

const sections = [
  { name: 'Bench', href: '/' },
  { name: 'Machines', href: '/machines' },
  { name: 'Fixes', href: '/search' },
  { name: 'Parts', href: '/parts' },
  { name: 'Club', href: '/club' },
] as const;
export type Section = (typeof sections)[number]['name'];

export interface ShellProps {
  here: Section;
  member: { name: string; role: string };
  club: string;
  /** Names the page for the skip link. */
  title: string;
  /** What the clue box shows. */
  query?: string;
  /** What was derived: left column, drawer on a phone. */
  margin?: ReactNode;
  /** The drawer's handle on a phone: one line that says what is in it. */
  bar?: string;
  /** Who is here and whether it is saved. */
  state?: ReactNode;
  children: ReactNode;
}

export function Shell({ here, member, club, title, query, margin, bar, state, children }: ShellProps) {
  return (
    <div className="shell">
      <a className="skip" href="#page">
        Skip to {title || 'the page'}
      </a>
      <header className="head">
        <a className="brand" href="/" aria-label={`Fettlebook, ${club}: to the bench`} title={club}>
          <BookMark />
          <span className="no-phone">Fettlebook</span>
        </a>
        <form className="clue" action="/search" role="search">
          <input
            id="clue"
            name="q"
            type="search"
            defaultValue={query}
            maxLength={300}
            placeholder="Go to, or give a clue: grey-orange, A3J4-7, sw 46"
            aria-label="Go to a page, or give a clue"
          />
          <kbd>Ctrl K</kbd>
        </form>
        <div className="state">
          {state}
          <a className="me" href="/club" aria-label={`You are ${member.name}, ${member.role}: to the club`}>
            {member.name}
          </a>
        </div>
      </header>
      <nav className="thumb" aria-label="Sections">
        <ul>
          {sections.map((s) => (
            <li key={s.name}>
              <a href={s.href} aria-current={s.name === here ? 'page' : undefined}>
                {s.name}
              </a>
            </li>
          ))}
        </ul>
      </nav>
      <div className="book">
        {margin && (
          <aside className="margin" aria-label="Margin">
            {margin}
          </aside>
        )}
        <main className="page" id="page" tabIndex={-1}>
          {children}
        </main>
      </div>
      <div className="veil" />
      <nav className={margin ? 'bar no-print' : 'bar bare-bar no-print'} aria-label="Page tools">
        {margin && (
          <label className="handle">
            <input type="checkbox" id="margin-open" autoComplete="off" />
            Margin
            <small>{bar}</small>
          </label>
        )}
        <a href="/search">Find</a>
        <label>
          <input type="checkbox" id="goto-open" autoComplete="off" />
          Go to
        </label>
      </nav>
    </div>
  );
}

/** A stretch of a page. Its own margin stands in the ruled margin of a screen that has no other. */
export function Entry({ margin, children }: { margin?: ReactNode; children: ReactNode }) {
  return (
    <section className="entry">
      {margin && <aside className="entry-margin">{margin}</aside>}
      {children}
    </section>
  );
}

/** A sheet without sections, for people who are not signed in. */
export function Bare({ title, children }: { title: string; children: ReactNode }) {
  return (
    <main className="bare">
      <p className="brand">
        <BookMark />
        Fettlebook
      </p>
      <h1>{title}</h1>
      {children}
    </main>
  );
}

/** "Saved" is said only when it is true; the words come from whoever knows. */
export function SaveSign({ state, children }: { state: SaveState; children: ReactNode }) {
  return (
    <div className="saved" role="status">
      <SaveIcon state={state} />
      <span>{children}</span>
    </div>
  );
}

/** Who is here, told apart by the line of the ring, never by colour. */
export function People({ people }: { people: readonly { initials: string; name: string; hand: number }[] }) {
  if (people.length === 0) return null;
  return (
    <ul className="who" aria-label="Here now">
      {people.map((p) => (
        <li key={p.name} className={`hand-${p.hand % 3}`} title={p.name}>
          <span aria-hidden="true">{p.initials}</span>
          <span className="sr">{p.name}</span>
        </li>
      ))}
    </ul>
  );
}
