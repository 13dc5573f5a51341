/** The in-line connectors of a machine, each with both halves; they are the machine's own, not its board design's. */
import { halfName, halfTitle, halves } from '@/lib/core/chart/inline';
import { positionLabel } from '@/lib/core/chart/positions';
import type { Chart } from '@/lib/core/chart/types';
import { positionsWords } from '@/lib/core/harness/pin-rows';
import { faceView } from '@/lib/core/lookup';
import { Faces } from './drawings';

/** `open` is the connector that stands open. */
export function InLine({ chart, open }: { chart: Chart; open?: string | undefined }) {
  return (
    <>
      <h3>In line</h3>
      {[...chart.inline.values()].map((x) => (
        <details key={x.id} className="header-fold" open={open === x.id}>
          <summary>
            <b className="mono">{x.id}</b> {[x.name, x.place].filter(Boolean).join(', ')}{' '}
            <span className="soft">
              {positionsWords(x)}, {x.pitchMm} mm
              {x.keys.length > 0 && `, key at ${x.keys.map((key) => positionLabel(x, key) || key).join(' and ')}`}
            </span>
          </summary>
          {halves.map((half) => {
            const face = faceView(chart, halfName(x.id, half));
            return (
              face && (
                <section key={half}>
                  <h4>{halfTitle(x.id, half)}</h4>
                  <Faces face={face} idPrefix={`x-${face.header.id}`} />
                </section>
              )
            );
          })}
        </details>
      ))}
    </>
  );
}
