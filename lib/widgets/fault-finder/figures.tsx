/** The drawings: the line under suspicion, and the whole matrix. */
import type { Chart } from '@/lib/core/chart/types';
import { type Finding, networkOf } from '@/lib/core/diagnosis';
import { chainPlan, SuspectChain, SuspectMatrix } from '@/lib/ui/drawings';
import { misbehaves, type Reading } from './model/readings';

/** The line of the first suspect that lies in one; both lines of the complaint when it is the switch itself, or stands in many. */
export function netsToDraw(chart: Chart, finding: Finding, readings: readonly Reading[]): string[] {
  const wrong = readings.filter((r) => r.known && misbehaves(r));
  const own = chart.circuit.get(wrong[0]?.number ?? '')?.nets ?? [];
  const [top] = finding.suspects;
  const lines = top ? (networkOf(chart).elements.get(top.id)?.lines ?? []) : [];
  const [only] = lines;
  const atSwitch = top === undefined || /^(contact|diode|insulation|tail) /.test(top.id);
  if (only && lines.length === 1 && !atSwitch) return [only];
  const complained = [...new Set(wrong.flatMap((r) => chart.circuit.get(r.number)?.nets ?? []))];
  const shared = complained.filter((net) => lines.includes(net));
  return shared.length > 0 && !atSwitch ? shared.slice(0, 2) : own;
}

export function Figures({ chart, finding, readings }: { chart: Chart; finding: Finding; readings: readonly Reading[] }) {
  if (finding.shares.size === 0) return null;
  const seen = new Map(readings.map((r) => [r.number, { as: r.mark, words: r.short }]));
  const known = { shares: finding.shares, onSwitch: finding.onSwitch, seen };
  return (
    <div className="finder-figures">
      {netsToDraw(chart, finding, readings).map((net) => (
        <SuspectChain key={net} plan={chainPlan(chart, net, known)} />
      ))}
      {finding.onSwitch.size + finding.onLine.size > 0 && <SuspectMatrix chart={chart} known={known} onLine={finding.onLine} />}
    </div>
  );
}
