'use client';
/** Colour sampler: touch a wire in a picture and see which wire of the chosen connector or line it is. */
import { useEffect, useMemo, useState } from 'react';
import { headerIn, headersAndHalves } from '@/lib/core/chart/half-chart';
import { netTitle } from '@/lib/core/chart/names';
import type { Chart } from '@/lib/core/chart/types';
import { type SampledWire, sampledWires } from '@/lib/core/lookup';
import { type Spot, sampleSpot } from '@/lib/core/wire';
import { Button, Field } from '../controls';
import { PictureSheet } from './picture-sheet';
import { type Picture, readPicture } from './read-picture';
import { SampledList } from './sampled-list';
import { nextKind, type SpotKind, type Spots, spotKinds, spotNames, spotRadius } from './spots';

export interface ColourSamplerProps {
  id: string;
  chart: Chart;
  /** The connector whose wires it may be; absent: it is asked for. */
  header?: string;
  /** The connector to ask with. */
  begin?: string;
  /** A file, or the address of a picture of ours. */
  image: Blob | string;
  /** What to do with a wire that was chosen from the answer; `at`: where it was touched, as fractions of width and height. */
  onPick?: (wire: SampledWire, at: Spot) => void;
}

export function ColourSampler({ id, chart, header, begin = '', image, onPick }: ColourSamplerProps) {
  const picture = usePicture(image);
  const [chosen, choose] = useState(begin);
  const place = header ?? chosen; // a connector, a line, or empty: the whole chart
  const [spots, setSpots] = useState<Spots>({});
  const [bare, setBare] = useState(false); // it has no stripe
  const [kind, setKind] = useState<SpotKind>('white');
  const answer = useMemo(() => {
    if (!picture || 'trouble' in picture) return null;
    const sampled = (of: SpotKind) => (spots[of] && sampleSpot(picture.pixels, spots[of], spotRadius[of])) ?? undefined;
    const base = sampled('wire');
    const stripe = bare ? ('none' as const) : sampled('stripe');
    const within = headerIn(chart, place) ? { header: place } : place ? { nets: [place] } : {};
    return base ? sampledWires(chart, within, { base, stripe, white: sampled('white') }) : null;
  }, [picture, spots, bare, chart, place]);

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
      {header === undefined && <Where id={id} chart={chart} place={place} choose={choose} />}
      <fieldset className="sampler-kinds">
        <legend>The next touch marks</legend>
        {spotKinds.map((each) => (
          <label key={each} className="check" htmlFor={`${id}-${each}`}>
            <input id={`${id}-${each}`} type="radio" name={`${id}-kind`} checked={kind === each} onChange={() => setKind(each)} />
            {spotNames[each].letter} {spotNames[each].name}
            <span className="soft" hidden={!spots[each]}>
              marked
            </span>
          </label>
        ))}
      </fieldset>
      <div className="sampler-hints note">
        {spotKinds.map((each) => (
          <p key={each} hidden={kind !== each}>
            {spotNames[each].hint}
          </p>
        ))}
      </div>
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
      {answer && <SampledList answer={answer} onPick={onPick && ((wire) => spots.wire && onPick(wire, fractionOf(spots.wire, picture)))} />}
    </div>
  );
}

const fractionOf = ({ x, y }: Spot, { canvas }: Picture): Spot => ({ x: x / canvas.width, y: y / canvas.height });

/** The connector or the line whose wires it may be. */
function Where({ id, chart, place, choose }: { id: string; chart: Chart; place: string; choose: (place: string) => void }) {
  return (
    <Field id={`${id}-at`} label="Of which connector or line?">
      {(control) => (
        <select {...control} value={place} onChange={(event) => choose(event.target.value)}>
          <option value="">Not known: the whole chart</option>
          <optgroup label="Connectors">
            {headersAndHalves(chart).map(({ id: value, name }) => (
              <option key={value} value={value}>
                {[value, name].filter(Boolean).join(', ')}
              </option>
            ))}
          </optgroup>
          <optgroup label="Lines">
            {[...chart.taps.keys()].map((net) => (
              <option key={net} value={net}>
                {netTitle(chart, net)}
              </option>
            ))}
          </optgroup>
        </select>
      )}
    </Field>
  );
}

type Arrived = Picture | { trouble: string } | null;

/** The picture as pixels; null while it is read. */
function usePicture(image: Blob | string): Arrived {
  const [read, setRead] = useState<{ image: Blob | string; is: Arrived } | null>(null);
  useEffect(() => {
    let gone = false;
    void readPicture(image).then((is) => !gone && setRead({ image, is }));
    return () => {
      gone = true;
    };
  }, [image]);
  return read?.image === image ? read.is : null;
}
