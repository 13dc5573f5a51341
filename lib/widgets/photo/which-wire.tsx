'use client';
/** Which wire of the machine's chart it is that shows on a photo; choosing one writes its pin beside it. */
import { useState } from 'react';
import { headerIn } from '@/lib/core/chart/half-chart';
import type { Chart } from '@/lib/core/chart/types';
import type { SampledWire } from '@/lib/core/lookup';
import { pictureUrl } from '@/lib/files/limits';
import { Button } from '@/lib/ui/controls';
import { LazySampler } from '@/lib/ui/sampler/lazy-sampler';
import type { Photo, Spot } from './definition';

interface Props {
  id: string;
  photo: Photo;
  place: number; // on the page, from 1
  chart: Chart;
  /** Of the copy that this device still has to send. */
  url?: string;
  write(label: string, at: Spot): void;
}

/** What a pin mark says of a wire: its pin where it has one there, else what it is. */
const labelOf = ({ pins, labels, wire }: SampledWire) => (pins.length === 1 && pins[0] ? pins[0] : `${labels.join(', ')}, ${wire}`);

export function WhichWire({ id, photo, place, chart, url, write }: Props) {
  const [image, setImage] = useState<string | null>(null); // as it was when it was opened: the sheet does not change while the photo is sent
  return (
    <div className="by-photo no-print">
      <p className="actions">
        <Button
          text
          onClick={() => setImage(image === null ? (url ?? pictureUrl(photo.picture, 1600)) : null)}
          aria-expanded={image !== null}
          aria-label={`Which wire is it on photo ${place}?`}
        >
          {image === null ? 'Which wire is it?' : 'Put the colour sampler away'}
        </Button>
      </p>
      {image !== null && (
        <>
          <p className="note soft">A wire that you choose from the answer is written on the photo, where you touched it.</p>
          <LazySampler
            id={`${id}-sampler`}
            chart={chart}
            begin={photo.marks.find(({ header }) => headerIn(chart, header))?.header}
            image={image}
            onPick={(wire, at) => {
              write(labelOf(wire), at);
              setImage(null);
            }}
          />
        </>
      )}
    </div>
  );
}
