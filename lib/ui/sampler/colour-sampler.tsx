'use client';
/** Colour sampler: touch a wire in a picture and see which wire of the chosen connector it is. */
import { useEffect, useMemo, useState } from 'react';
import type { Chart } from '@/lib/core/chart/types';
import { sampledWires } from '@/lib/core/lookup';
import { type Spot, sampleSpot } from '@/lib/core/wire';
import { Button, Field } from '../controls';
import { PictureSheet } from './picture-sheet';
import { type Picture, readPicture } from './read-picture';
import { SampledList } from './sampled-list';
import { nextKind, type SpotKind, type Spots, spotKinds, spotNames, spotRadius } from './spots';

export interface ColourSamplerProps {
  id: string;
  chart: Chart;
  /** The connector to begin with; the list can be changed. */
  header?: string;
  image: Blob;
  /** What to do with a wire that was chosen from the answer. */
  onPick?: (wire: string) => void;
}

export function ColourSampler({ id, chart, header: first = '', image, onPick }: ColourSamplerProps) {
  const picture = usePicture(image);
  const [header, setHeader] = useState(first);
  const [spots, setSpots] = useState<Spots>({});
  const [bare, setBare] = useState(false); // it has no stripe
  const [kind, setKind] = useState<SpotKind>('white');
  const answer = useMemo(() => {
    if (!picture || 'trouble' in picture) return null;
    const sampled = (of: SpotKind) => (spots[of] && sampleSpot(picture.pixels, spots[of], spotRadius[of])) ?? undefined;
    const base = sampled('wire');
    const stripe = bare ? ('none' as const) : sampled('stripe');
    return base ? sampledWires(chart, header ? { header } : {}, { base, stripe, white: sampled('white') }) : null;
  }, [picture, spots, bare, chart, header]);

  if (!picture)
    return (
      <p className="soft" role="status">
        Looking at the picture…
      </p>
    );
  if ('trouble' in picture)
    return (
      <p className="form-error" role="alert">
        {picture.trouble}
      </p>
    );
  const mark = (spot: Spot) => {
    const marked = { ...spots, [kind]: spot };
    const none = bare && kind !== 'stripe';
    setSpots(marked);
    setBare(none);
    setKind(nextKind(marked, kind, none));
  };
  return (
    <div className="sampler">
      <Field id={`${id}-at`} label="Which connector is it?">
        {(control) => (
          <select {...control} value={header} onChange={(event) => setHeader(event.target.value)}>
            <option value="">Not known: the whole chart</option>
            {[...chart.headers.values()].map(({ id: value, name }) => (
              <option key={value} value={value}>
                {[value, name].filter(Boolean).join(', ')}
              </option>
            ))}
          </select>
        )}
      </Field>
      <fieldset className="sampler-kinds">
        <legend>The next touch marks</legend>
        {spotKinds.map((each) => (
          <label key={each} className="check" htmlFor={`${id}-${each}`}>
            <input id={`${id}-${each}`} type="radio" name={`${id}-kind`} checked={kind === each} onChange={() => setKind(each)} />
            {spotNames[each].letter} {spotNames[each].name}
            {spots[each] && <span className="soft"> marked</span>}
          </label>
        ))}
      </fieldset>
      <p className="note">{spotNames[kind].hint}</p>
      <PictureSheet id={id} picture={picture} spots={spots} kind={kind} onMark={mark} />
      <label className="check" htmlFor={`${id}-bare`}>
        <input
          id={`${id}-bare`}
          type="checkbox"
          checked={bare}
          onChange={({ target }) => {
            setBare(target.checked);
            if (target.checked) setSpots(({ stripe: _, ...rest }) => rest);
            if (target.checked && kind === 'stripe') setKind('wire');
          }}
        />
        It has no stripe
      </label>
      {Object.keys(spots).length > 0 && (
        <Button
          text
          onClick={() => {
            setSpots({});
            setBare(false);
            setKind('white');
          }}
        >
          Clear the marks
        </Button>
      )}
      {answer && <SampledList answer={answer} onPick={onPick} />}
    </div>
  );
}

type Arrived = Picture | { trouble: string } | null;

/** The picture as pixels; null while it is read. */
function usePicture(image: Blob): Arrived {
  const [read, setRead] = useState<{ image: Blob; is: Arrived } | null>(null);
  useEffect(() => {
    let gone = false;
    void readPicture(image).then((is) => !gone && setRead({ image, is }));
    return () => {
      gone = true;
    };
  }, [image]);
  return read?.image === image ? read.is : null;
}
