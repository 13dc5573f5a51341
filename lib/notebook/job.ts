/** The connectors of a page as one job: their housings, and the headers that are made new, from one plan of what to cut and buy. */
import { headerIn } from '@/lib/core/chart/half-chart';
import type { Job, JobConnector } from '@/lib/core/harness/job-types';
import { freeFor } from '@/lib/core/parts';
import type { PageContext, PageJob } from '@/lib/widgets/definition';
import type { EvaluatedWidget } from './types';

interface Connector extends JobConnector {
  replace: boolean;
  widget: string;
}

/**
 * For each widget, by its id, the plan it shares with the others: made at the first call, then kept. Headers that the chart does not have
 * are left out; a header planned twice counts twice, and a half of an in-line connector has no header to replace. Null while there are fewer
 * than two connectors.
 */
export function pageJob(
  widgets: readonly EvaluatedWidget[],
  { chart, catalogue, stock, reserved }: PageContext,
): (widget: string) => PageJob | null {
  let made: { connectors: Connector[]; housings: Job; headers: Job } | null | undefined;
  const make = () => {
    const connectors = connectorsOf(widgets, chart);
    const planners = widgets.find((widget) => widget.definition?.planJob)?.definition?.planJob;
    if (connectors.length < 2 || !planners) return null;
    const replaced = connectors.filter((c) => c.replace);
    const free = freeFor(stock, reserved);
    return { connectors, housings: planners.housings(connectors, catalogue, free), headers: planners.headers(replaced, catalogue, free) };
  };
  return (widget) => {
    if (made === undefined) made = make();
    if (made === null) return null;
    const { connectors, housings, headers } = made;
    return { own: connectors.filter((c) => c.widget === widget).map((c) => c.id), housings, headers };
  };
}

function connectorsOf(widgets: readonly EvaluatedWidget[], chart: PageContext['chart']): Connector[] {
  const times = new Map<string, number>();
  return widgets.flatMap(({ id: widget, definition, state, error }) =>
    (error === undefined ? (definition?.headers?.(state) ?? []) : []).flatMap(({ id, replace }) => {
      const there = chart && headerIn(chart, id);
      if (!there) return [];
      const { header, half } = there;
      const time = (times.get(id) ?? 0) + 1;
      times.set(id, time);
      return [
        { id: time === 1 ? id : `${id} (${time})`, header, contacts: half?.contacts ?? 'sockets', replace: replace && !half, widget },
      ];
    }),
  );
}
