/** Through a page's past: a slider, a step back, a step on. A plain form: its button shows what was chosen. */
import type { Stretch } from '@/lib/store/types';
import { Button, LinkButton } from './controls';
import { atHref } from './history-list';
import { momentOf, pointOf } from './history-words';

interface Props {
  page: string;
  stretches: readonly Stretch[]; // oldest first
  index: number; // of the one that is shown
  against: string; // as in the address; empty: the one before
}

export function HistorySlider({ page, stretches, index, against }: Props) {
  const here = stretches[index];
  const [earlier, later] = [stretches[index - 1], stretches[index + 1]];
  const named = stretches.flatMap((stretch, k) => (stretch.name !== null && k !== index ? [stretch] : []));
  const listed = ['', 'now', ...named.map(({ number }) => String(number))];
  return (
    <form className="past no-print" action={`/pages/${page}/history`} data-submit-on-change="">
      <div className="past-slider">
        <label htmlFor="step">
          Stretch {index + 1} of {stretches.length}
          {here && <span className="soft"> {momentOf(here)}</span>}
        </label>
        <input
          type="range"
          id="step"
          name="step"
          min={1}
          max={stretches.length}
          defaultValue={index + 1}
          list="named-steps"
          autoComplete="off"
        />
        <datalist id="named-steps">
          {stretches.map((stretch, k) => stretch.name !== null && <option key={stretch.number} value={k + 1} label={stretch.name} />)}
        </datalist>
      </div>
      <div className="past-against">
        <label htmlFor="against">Compared with</label>
        <select id="against" name="against" defaultValue={against} autoComplete="off">
          <option value="">the one before</option>
          <option value="now">the page now</option>
          {named.map((stretch) => (
            <option key={stretch.number} value={stretch.number}>
              {pointOf(stretch)}
            </option>
          ))}
          {!listed.includes(against) && <option value={against}>entry {against}</option>}
        </select>
      </div>
      <div className="past-steps">
        <Button type="submit">Show</Button>
        {earlier && <LinkButton href={atHref(page, earlier.number)}>Earlier</LinkButton>}
        {later && <LinkButton href={atHref(page, later.number)}>Later</LinkButton>}
      </div>
    </form>
  );
}
