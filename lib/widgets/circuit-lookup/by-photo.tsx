'use client';
/** A clue from a picture of the wire. The picture stays on this device; the code that reads it comes when somebody wants it. */
import { type ComponentType, useRef, useState } from 'react';
import type { Chart } from '@/lib/core/chart/types';
import { Button } from '@/lib/ui/controls';
import type { ColourSamplerProps } from '@/lib/ui/sampler/colour-sampler';

export function ByPhoto({ id, chart, onWire }: { id: string; chart: Chart; onWire: (wire: string) => void }) {
  const [image, setImage] = useState<Blob | null>(null);
  const [Sampler, setSampler] = useState<ComponentType<ColourSamplerProps> | 'failed' | null>(null);
  const camera = useRef<HTMLInputElement>(null);
  const chooser = useRef<HTMLInputElement>(null);
  const fetchSampler = () => {
    setSampler(null);
    import('@/lib/ui/sampler/colour-sampler').then(
      ({ ColourSampler }) => setSampler(() => ColourSampler),
      () => setSampler('failed'),
    );
  };
  const chosen = (input: HTMLInputElement) => {
    const [file] = input.files ?? [];
    input.value = ''; // the same file can be chosen again
    if (!file) return;
    setImage(file);
    if (typeof Sampler !== 'function') fetchSampler();
  };
  return (
    <div className="by-photo no-print">
      <p className="actions">
        <Button onClick={() => camera.current?.click()}>Photograph the wire</Button>
        <Button text onClick={() => chooser.current?.click()}>
          Choose a picture
        </Button>
        {image && (
          <Button text onClick={() => setImage(null)}>
            Put the picture away
          </Button>
        )}
      </p>
      <input
        ref={camera}
        type="file"
        accept="image/*"
        capture="environment"
        hidden
        aria-label="Photograph the wire"
        onChange={(event) => chosen(event.target)}
      />
      <input
        ref={chooser}
        type="file"
        accept="image/*"
        hidden
        aria-label="Choose a picture of the wire"
        onChange={(event) => chosen(event.target)}
      />
      {image && <p className="note soft">The picture stays on this device and is not kept.</p>}
      {image && Sampler === null && (
        <p className="soft" role="status">
          Fetching the colour sampler…
        </p>
      )}
      {image && Sampler === 'failed' && (
        <p className="form-error" role="alert">
          The colour sampler did not come: there is no network. <Button onClick={fetchSampler}>Try again</Button>
        </p>
      )}
      {image && typeof Sampler === 'function' && <Sampler id={`${id}-sampler`} chart={chart} image={image} onPick={onWire} />}
    </div>
  );
}
