/** The photo of a difference from the manual: small, and whole when pressed. */

import type { Deviation } from '@/lib/core/chart/schema';
import { pictureUrl } from '@/lib/files/limits';
import { removedUrl, removedWords } from './photo-figure';

/** `removed`: for good; what stands for it says so. */
export function FoundPhoto({ found: { photo, here }, large, removed }: { found: Deviation; large?: boolean; removed?: boolean }) {
  if (!photo) return null;
  return (
    <a className={large ? 'found-photo large' : 'found-photo'} href={pictureUrl(photo, 3200)}>
      {/* biome-ignore lint/performance/noImgElement: the sizes are made once, by our own server */}
      <img
        src={removed ? removedUrl(photo, 800) : pictureUrl(photo, large ? 800 : 320)}
        alt={removed ? removedWords : `As found: ${here}`}
        loading="lazy"
        decoding="async"
      />
    </a>
  );
}
