import type { Bringing, Outcome } from '@/lib/archive/bringing';
import { type Progress, steps } from '@/lib/archive/progress';

const stepWords = {
  looking: 'looking at what is here',
  pictures: 'pictures',
  keeping: 'charts, pages and stock',
  finding: 'making pages findable',
} as const;

/** How far bringing in is, or what came of it. The small script keeps it true; without one, a link does. */
export function HowFar({ bringing }: { bringing: Bringing }) {
  if (bringing.state === 'going') {
    const { done, of } = bringing.progress;
    return (
      <>
        <p role="status" data-said="">
          {progressWords(bringing.progress)}
        </p>
        <progress aria-label="Brought in" value={of > 0 ? done : undefined} max={of || undefined} />
        <p className="soft">The server goes on with it when this window is closed; come back to see what came of it.</p>
        <noscript>
          <a className="btn" href="?">
            See how far it is now
          </a>
        </noscript>
      </>
    );
  }
  const fine = bringing.state === 'over' && bringing.outcome.ok;
  return (
    <p className={fine ? 'form-done' : 'form-message'} role={fine ? 'status' : 'alert'} tabIndex={-1}>
      {bringing.state === 'over'
        ? outcomeWords(bringing.outcome)
        : 'It was cut off. Bring it in again: what is here already is passed over.'}
    </p>
  );
}

/** `Step 2 of 4, pictures: 120 of 300.` */
export function progressWords({ step, done, of }: Progress): string {
  const counted = of > 0 ? `: ${done.toLocaleString('en-GB')} of ${of.toLocaleString('en-GB')}` : '';
  return `Step ${steps.indexOf(step) + 1} of ${steps.length}, ${stepWords[step]}${counted}.`;
}

const doneWords = {
  added: 'added',
  'added beside': 'added beside ours',
  replaced: 'replaced',
  kept: 'kept as ours',
  same: 'the same already',
} as const;
const doings = Object.keys(doneWords) as (keyof typeof doneWords)[];

/** `Brought in: 3 added, 90 the same already.` */
export function outcomeWords(outcome: Outcome): string {
  if (!outcome.ok) return outcome.message;
  const counted = doings.filter((done) => outcome.counts[done] > 0).map((done) => `${outcome.counts[done]} ${doneWords[done]}`);
  return `Brought in: ${counted.join(', ')}.`;
}
