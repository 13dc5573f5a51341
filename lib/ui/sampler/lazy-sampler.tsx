'use client';
/** The colour sampler, whose code comes when somebody opens a picture with it. */
import { type ComponentType, useEffect, useState } from 'react';
import { Button } from '../controls';
import type { ColourSamplerProps } from './colour-sampler';

export function LazySampler(props: ColourSamplerProps) {
  const [Sampler, setSampler] = useState<ComponentType<ColourSamplerProps> | 'failed' | null>(null);
  const fetchSampler = () => {
    setSampler(null);
    import('./colour-sampler').then(
      ({ ColourSampler }) => setSampler(() => ColourSampler),
      () => setSampler('failed'),
    );
  };
  useEffect(fetchSampler, []);
  if (Sampler === null)
    return (
      <p className="soft" role="status">
        Fetching the colour sampler…
      </p>
    );
  if (Sampler === 'failed')
    return (
      <p className="form-error" role="alert">
        The colour sampler did not come: there is no network. <Button onClick={fetchSampler}>Try again</Button>
      </p>
    );
  return <Sampler {...props} />;
}
