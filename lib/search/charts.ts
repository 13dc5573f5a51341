/** The charts of all machines, indexed once and kept until one changes. */
import { indexChart } from '@/lib/core/chart';
import type { Chart } from '@/lib/core/chart/types';
import { getChartParts, listDesigns, listMachines } from '@/lib/store/machines';

const kept = new Map<string, { version: string; chart: Chart }>();

export async function allCharts(): Promise<Chart[]> {
  const [machines, designs] = await Promise.all([listMachines(), listDesigns()]);
  const charts = await Promise.all(
    machines.map(async (m) => {
      const version = `${m.version}/${m.design}/${designs.find((d) => d.id === m.design)?.version}`;
      const known = kept.get(m.id);
      if (known?.version === version) return known.chart;
      const parts = await getChartParts(m.id);
      if (!parts) return null;
      const chart = indexChart(parts.machine, parts.design);
      kept.set(m.id, { version, chart });
      return chart;
    }),
  );
  return charts.filter((c): c is Chart => c !== null);
}
