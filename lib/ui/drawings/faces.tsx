/** End views of one connector that are flipped by name, with the positions in words. Works without scripts. */
import { type EndView, endViews } from '@/lib/core/chart/views';
import type { FaceView } from '@/lib/core/lookup/types';
import { Flip } from '../flip';
import { Face } from './face';
import { Positions } from './positions';

export function Faces({
  face,
  idPrefix,
  views = face.contacts === 'pins' ? ['Q1', 'Q2'] : ['P1', 'P2'],
}: {
  face: FaceView;
  idPrefix: string;
  views?: readonly EndView[];
}) {
  return (
    <div className="faces fits">
      <Flip
        id={`${idPrefix}-view`}
        legend={face.housing === face.header.id ? `${face.housing}, seen` : `${face.housing} and ${face.header.id}, seen`}
        sides={views.map((view) => ({
          label: endViews[view].name,
          content: (
            <div className="plate">
              <div className="wide-form">
                <Face face={face} view={view} />
              </div>
              <div className="narrow-form">
                <Face face={face} view={view} narrow />
              </div>
            </div>
          ),
        }))}
      />
      <Positions face={face} />
    </div>
  );
}
