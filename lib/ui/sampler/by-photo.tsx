'use client';
/** Which wire it is, from a picture that is taken or chosen for that alone. The picture stays on this device. */
import { useRef, useState } from 'react';
import { Button } from '../controls';
import type { ColourSamplerProps } from './colour-sampler';
import { LazySampler } from './lazy-sampler';

export function ByPhoto(props: Omit<ColourSamplerProps, 'image'>) {
  const [image, setImage] = useState<Blob | null>(null);
  const camera = useRef<HTMLInputElement>(null);
  const chooser = useRef<HTMLInputElement>(null);
  const chosen = (input: HTMLInputElement) => {
    const [file] = input.files ?? [];
    input.value = ''; // the same file can be chosen again
    if (file) setImage(file);
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
      {image && <LazySampler {...props} image={image} />}
    </div>
  );
}
