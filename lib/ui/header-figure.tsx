/** A header of a chart as a figure: all four end views, flipped by name, with its positions in words. */

import type { Chart } from '@/lib/core/chart/types';
import { faceView } from '@/lib/core/lookup';
import { Faces } from './drawings';

export function HeaderFigure({ chart, header, idPrefix }: { chart: Chart; header: string; idPrefix: string }) {
  const face = faceView(chart, header);
  if (!face) return <p className="soft">This chart has no header {header}.</p>;
  return <Faces face={face} idPrefix={idPrefix} views={['P1', 'P2', 'H1', 'H2']} />;
}
