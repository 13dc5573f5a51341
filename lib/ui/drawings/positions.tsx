/** The text equivalent of any end view: every position with its wires in words. */
import type { FaceView } from '@/lib/core/lookup/types';
import { listed } from '../words';
import { wiresInWords } from './colours';
import { labelAt, relabelled } from './views';

export function Positions({ face }: { face: FaceView }) {
  const both = relabelled(face);
  return (
    <ol className="positions" aria-label={`Positions of ${face.housing}`}>
      {face.positions.map((p) => (
        <li key={p.position} className={p.lit ? 'chosen' : undefined} data-wire={p.wires[0]?.colour}>
          <b>{labelAt(face, p.position)}</b>
          <span className={p.wires.length ? undefined : 'soft'}>
            {p.key ? 'key' : p.wires.length ? wiresInWords(p.wires) : 'not used'}
            {p.found && <em className="found">found here: {listed(p.found)}</em>}
            {p.lit && <em>{p.label}</em>}
            {both && <em className="soft">counted {p.position}</em>}
          </span>
        </li>
      ))}
    </ol>
  );
}
