/** Blocks that pages and widgets are set from: heads, figures, cautions, notices, ticks. */
import type { ReactNode } from 'react';
import type { Tick } from '@/lib/widgets/definition';
import { BoxIcon, CautionSign } from './drawings/icons';

/** Ruled like a table in a report: heavy rule, title, tools, body. */
export function Widget({ title, tools, id, children }: { title: ReactNode; tools?: ReactNode; id?: string; children: ReactNode }) {
  return (
    <section className="widget" id={id}>
      <header>
        <h2>{title}</h2>
        {tools && <div className="tools">{tools}</div>}
      </header>
      {children}
    </section>
  );
}

/** A figure on its plate with one sentence beneath: what it is and what to look for. */
export function Fig({ caption, children }: { caption: ReactNode; children: ReactNode }) {
  return (
    <figure className="fits">
      <div className="plate">{children}</div>
      <figcaption>{caption}</figcaption>
    </figure>
  );
}

/** Tape, sign and words. Work on a machine can hurt; this is the only saturated thing besides wires. */
export function Caution({ title, electric = false, children }: { title: string; electric?: boolean; children: ReactNode }) {
  return (
    <div className="caution" role="note">
      <CautionSign electric={electric} />
      <p>
        <b>{title}</b> {children}
      </p>
    </div>
  );
}

/** Something to know, set off by a rule. */
export function Notice({ title, children }: { title: string; children: ReactNode }) {
  return (
    <div className="notice">
      <h3>{title}</h3>
      {children}
    </div>
  );
}

/** Nothing here yet, and the next step. */
export function Empty({ title, children }: { title: string; children: ReactNode }) {
  return (
    <div className="empty">
      <p className="empty-title">{title}</p>
      <p>{children}</p>
    </div>
  );
}

/** A tick of 48 px. Without `onTick` it is still: who reads sees what others ticked. */
export function TickBox({ label, tick, onTick }: { label: string; tick: Tick | undefined; onTick?: (on: boolean) => void }) {
  const on = tick !== undefined;
  const words = `${label}${tick ? `, by ${tick.by} ${clock(tick.at)}` : ''}`;
  if (!onTick) {
    return (
      <span className="tick" role="img" aria-label={`${words}: ${on ? 'done' : 'open'}`}>
        <BoxIcon on={on} />
      </span>
    );
  }
  return (
    <button type="button" className="tick" role="checkbox" aria-checked={on} aria-label={label} title={words} onClick={() => onTick(!on)}>
      <BoxIcon on={on} />
    </button>
  );
}

/** `2026-03-14T10:04:12+01:00` → `10:04`, as the clock of whoever wrote it had it: the same on the server and in every browser. */
export const clock = (iso: string) => /T(\d{2}:\d{2})/.exec(iso)?.[1] ?? '';

/** "Ines 10:04". */
export const whoAndWhen = (tick: Tick | undefined) => (tick ? `${tick.by.split(' ')[0]} ${clock(tick.at)}` : '');
