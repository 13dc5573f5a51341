/** Photos with their marks; where they are written on, with the means to take and mark them. */
import { Empty, Widget } from '@/lib/ui/blocks';
import { PairSlide, PhotoFigure } from '@/lib/ui/photo-figure';
import type { WidgetViewProps } from '../definition';
import { altOf, type Mark, type Model, markWords, type Photo } from './definition';
import { PhotoDesk } from './desk';

export function View({ id, model, act }: WidgetViewProps<Model>) {
  if (act) return <PhotoDesk id={id} model={model} act={act} />;
  const { photos } = model;
  const afters = new Set(photos.flatMap((each) => each.after?.id ?? []));
  return (
    <Widget title="Photos">
      {photos.length === 0 && <Empty title="No photos yet">Whoever writes on this page can take or choose some.</Empty>}
      {photos.map((photo, k) =>
        photo.after ? (
          <Pair key={photo.id} id={`${id}-${photo.id}`} before={photo} after={photo.after} />
        ) : (
          !afters.has(photo.id) && <Shown key={photo.id} photo={photo} place={k + 1} />
        ),
      )}
    </Widget>
  );
}

function Shown({ photo, place, also }: { photo: Photo; place: number; also?: string }) {
  const caption = [also, photo.caption].filter(Boolean).join(': ');
  return (
    <div className="photo-entry">
      <PhotoFigure photo={photo} alt={altOf(photo, place)}>
        {caption || `Photo ${place}`}
      </PhotoFigure>
      <MarkList marks={photo.marks} />
    </div>
  );
}

export function MarkList({ marks }: { marks: readonly Mark[] }) {
  const said = marks.filter((mark) => mark.sort === 'number' || mark.label.trim());
  if (said.length === 0) return null;
  return (
    <ul className="mark-list">
      {said.map((mark) => (
        <li key={mark.id}>{markWords(mark)}</li>
      ))}
    </ul>
  );
}

function Pair({ id, before, after }: { id: string; before: Photo; after: Photo }) {
  return (
    <div className="photo-entry">
      <PairSlide id={id} before={before} after={after} />
      <div className="pair pair-both">
        <Shown photo={before} place={1} also="Before" />
        <Shown photo={after} place={2} also="After" />
      </div>
      <div className="pair-words">
        {[before, after].map((each, k) => (
          <div key={each.id}>
            <p className="note">
              {k === 0 ? 'Before' : 'After'}
              {each.caption && `: ${each.caption}`}
            </p>
            <MarkList marks={each.marks} />
          </div>
        ))}
      </div>
    </div>
  );
}
