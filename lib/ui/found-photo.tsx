/** The photo of a difference from the manual: small, and whole when pressed. */

import type { Deviation } from '@/lib/core/chart/schema';
import { pictureUrl } from '@/lib/files/limits';

export function FoundPhoto({ found: { photo, here }, large }: { found: Deviation; large?: boolean }) {
  if (!photo) return null;
  return (
    <a className={large ? 'found-photo large' : 'found-photo'} href={pictureUrl(photo, 3200)}>
      {/* biome-ignore lint/performance/noImgElement: the sizes are made once, by our own server */}
      <img src={pictureUrl(photo, large ? 800 : 320)} alt={`As found: ${here}`} loading="lazy" decoding="async" />
    </a>
  );
}
