/** The charts of all machines, indexed once and kept until one changes. */
import { indexChart } from '@/lib/core/chart';
import type { Chart } from '@/lib/core/chart/types';
import { chartVersions, getChartParts } from '@/lib/store/machines';

const kept = new Map<string, { version: string; chart: Chart }>();

/** By title. */
export async function allCharts(): Promise<Chart[]> {
  const charts = await Promise.all(
    (await chartVersions()).map(async ({ id, version }) => {
      const known = kept.get(id);
      if (known?.version === version) return known.chart;
      const parts = await getChartParts(id);
      if (!parts) return null;
      const chart = indexChart(parts.machine, parts.design);
      kept.set(id, { version, chart });
      return chart;
    }),
  );
  return charts.filter((c): c is Chart => c !== null).sort((a, b) => a.title.localeCompare(b.title, 'en'));
}
