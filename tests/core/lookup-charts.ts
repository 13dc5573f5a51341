/** The demo club's charts, read from content/. */
import { readdirSync, readFileSync } from 'node:fs';
import { indexChart } from '@/lib/core/chart/build';
import { boardDesign, machine } from '@/lib/core/chart/schema';
import type { Chart } from '@/lib/core/chart/types';

const read = (folder: string): unknown[] => {
  const dir = new URL(`../../content/${folder}/`, import.meta.url);
  return readdirSync(dir)
    .filter((file) => file.endsWith('.json'))
    .map((file): unknown => JSON.parse(readFileSync(new URL(file, dir), 'utf8')));
};

/** Made anew at each call, so that nothing is known of them yet. */
export function demoCharts(): Chart[] {
  const designs = read('designs').map((json) => boardDesign.parse(json));
  return read('machines')
    .map((json) => machine.parse(json))
    .flatMap((m) => designs.filter((d) => d.id === m.design).map((d) => indexChart(m, d)));
}
