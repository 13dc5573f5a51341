/** Named sides of one thing, the one shown filled. Radio inputs and CSS only, so that it works without scripts; on paper all sides show. */
import type { ReactNode } from 'react';

/** `id` names the group and must be unique on the page; four sides at most. */
export function Flip({ id, legend, sides }: { id: string; legend: string; sides: readonly { label: string; content: ReactNode }[] }) {
  return (
    <div className="flip-set">
      <fieldset className="flip">
        <legend className="sr">{legend}</legend>
        {sides.map((side, k) => (
          <label key={side.label}>
            <input type="radio" name={id} data-side={k} defaultChecked={k === 0} />
            {side.label}
          </label>
        ))}
      </fieldset>
      {sides.map((side, k) => (
        <div key={side.label} className="flip-side" data-side={k}>
          {side.content}
        </div>
      ))}
    </div>
  );
}
