/** The connector plan: every wire in order, its terminal, the housing, the key, the parts, the cautions and the order of work. */
import pulls from '@/content/pull-tests.json';
import { netTitle } from '../chart/names';
import type { Header } from '../chart/schema';
import type { Chart, WireEnd } from '../chart/types';
import { housingName } from '../chart/views';
import type { Catalogue, Need, Stock, TerminalPart } from '../parts/schema';
import { equivalentAwg } from '../wire/gauge';
import { cautionsFor } from './cautions';
import { chooseHousing } from './housing';
import { stepsFor } from './steps';
import { chooseTerminal } from './terminal';
import type { ConnectorPlan, PlanResult, PlanRow, Problem } from './types';

export interface PlanChoices {
  headerSide: 'sound' | 'reflow' | 'replace';
  /** The old keying plugs come out whole and are used again. */
  saveKey: boolean;
}
const samples = 2; // terminals of each kind spent on destructive pull tests
const spareFor = (fitted: number) => Math.ceil(fitted / 10); // one spare per ten begun

export function planConnector(
  chart: Chart,
  headerId: string,
  catalogue: Catalogue,
  stock: Stock,
  { headerSide, saveKey }: PlanChoices,
): PlanResult {
  const header = chart.headers.get(headerId);
  if (!header)
    return {
      ok: false,
      message: `${chart.title} has no connector ${headerId || '(none chosen)'}.`,
      mend: `Choose one of ${[...chart.headers.keys()].join(', ')}.`,
    };
  const { choice: housing, housing: part } = chooseHousing(header, catalogue, stock);
  const terminals = catalogue.parts.filter(
    (p): p is TerminalPart => p.kind === 'terminal' && (part === null || part.terminals.includes(p.id)),
  );
  const rows = Array.from({ length: header.positions }, (_, i) => rowOf(chart, header, i + 1, terminals, stock));
  const keys = keysOf(header, catalogue, stock);
  const usage = terminalUse(rows, terminals, stock);
  const steps = stepsFor({ header, housingName: housingName(header.id), rows, housing, keys, headerSide });
  const problems: Problem[] = [...rows.flatMap((r) => r.problems), ...keyProblems(keys, saveKey)];
  if (housing.how === 'none') problems.push({ level: 'error', message: housing.message, mend: housing.mend });
  const plan: ConnectorPlan = {
    header,
    housingName: housingName(header.id),
    rows,
    housing,
    terminals: usage,
    keys,
    pullTests: pullTests(rows),
    cautions: cautionsFor(chart, header, { solder: headerSide !== 'sound', cut: housing.how === 'cut' }),
    steps,
    minutes: steps.reduce((sum, s) => sum + s.minutes, 0),
    needs: needsOf(header, housing, usage, keys, { headerSide, saveKey }, catalogue),
    problems,
  };
  return { ok: true, plan };
}

function rowOf(chart: Chart, header: Header, position: number, terminals: readonly TerminalPart[], stock: Stock): PlanRow {
  const key = header.keys.includes(position);
  const pins = header.pins.filter((p) => p.position === position);
  const tap = chart.pins.get(`${header.id}-${position}`);
  const blank = { position, wires: [], net: '', goesTo: '', equivalentAwg: null, terminal: null };
  const problems: Problem[] = [];
  if (pins.length > 1)
    problems.push({
      level: 'error',
      position,
      message: `${header.id}-${position} carries two lines, ${pins.map((p) => p.net).join(' and ')}, in the chart.`,
      mend: 'Mend the chart before any wire is cut.',
    });
  if (!tap) return { ...blank, key, empty: !key, label: key ? 'key' : 'not used', problems };
  if (key)
    problems.push({
      level: 'error',
      position,
      message: `${header.id}-${position} is the key, yet the chart has ${wordsOf(tap.wires)} on it.`,
      mend: 'Look at the header: mend the key or the wire in the chart.',
    });
  const fit = chooseTerminal(
    position,
    tap.wires,
    header,
    terminals,
    stock,
    (chart.nets.get(tap.net)?.amps ?? 0) / Math.max(1, (chart.taps.get(tap.net) ?? []).filter((t) => t.header === header.id).length),
  );
  return {
    position,
    key,
    empty: false,
    wires: tap.wires,
    net: tap.net,
    label: netTitle(chart, tap.net),
    goesTo: tap.goesTo,
    equivalentAwg: equivalentAwg(tap.wires.map((w) => w.awg)),
    terminal: fit.terminal && { part: fit.terminal.id, name: fit.terminal.name, stripMm: fit.terminal.stripMm },
    problems: [...problems, ...fit.problems],
  };
}

const wordsOf = (wires: readonly WireEnd[]) => wires.map((w) => w.colour).join(' and ');

function keysOf(header: Header, catalogue: Catalogue, stock: Stock): ConnectorPlan['keys'] {
  const plug = catalogue.parts.find((p) => p.kind === 'key' && Math.abs(p.pitchMm - header.pitchMm) < 0.02);
  return { positions: [...header.keys], part: plug?.id ?? null, onHand: plug ? (stock[plug.id] ?? 0) : 0 };
}

function keyProblems(keys: ConnectorPlan['keys'], saveKey: boolean): Problem[] {
  if (keys.positions.length === 0 || saveKey || keys.part) return [];
  return [
    {
      level: 'warning',
      message: `Position ${keys.positions.join(' and ')} needs a keying plug, and the catalogue has none of this pitch.`,
      mend: 'Save the old one, or add a plug to the catalogue. An improvised plug works loose.',
    },
  ];
}

function terminalUse(rows: readonly PlanRow[], terminals: readonly TerminalPart[], stock: Stock): ConnectorPlan['terminals'] {
  return terminals.flatMap((t) => {
    const fitted = rows.filter((r) => r.terminal?.part === t.id).length;
    if (fitted === 0) return [];
    const spare = spareFor(fitted);
    return [{ part: t.id, name: t.name, fitted, spare, samples, total: fitted + spare + samples, onHand: stock[t.id] ?? 0 }];
  });
}

/** Least pull by gauge, for samples of each wire by itself. Gauges between two rows take the thicker row's force. */
function pullTests(rows: readonly PlanRow[]): ConnectorPlan['pullTests'] {
  const table = Object.entries(pulls.newtons).map(([awg, newtons]) => ({ awg: Number(awg), newtons }));
  const gauges = [...new Set(rows.flatMap((r) => r.wires.map((w) => w.awg)))].sort((a, b) => a - b);
  return gauges.flatMap((awg) => {
    const row = table.filter((t) => t.awg <= awg).sort((a, b) => b.awg - a.awg)[0];
    return row ? [{ awg, newtons: row.newtons, standard: pulls.standard }] : [];
  });
}

function needsOf(
  header: Header,
  housing: ConnectorPlan['housing'],
  usage: ConnectorPlan['terminals'],
  keys: ConnectorPlan['keys'],
  { headerSide, saveKey }: PlanChoices,
  catalogue: Catalogue,
): Need[] {
  const from = `connector plan ${header.id}`;
  const needs: Need[] = [];
  if (housing.how !== 'none')
    needs.push({
      part: housing.part,
      name: housing.name,
      quantity: 1,
      from,
      ...(housing.how === 'cut'
        ? { note: `cut to ${housing.positions}${housing.offcut > 0 ? `, ${housing.offcut} positions kept` : ''}` }
        : {}),
    });
  for (const t of usage)
    needs.push({ part: t.part, name: t.name, quantity: t.total, from, note: `${t.fitted} fitted, ${t.spare} spare, ${t.samples} samples` });
  if (keys.positions.length > 0 && !saveKey)
    needs.push({
      ...(keys.part ? { part: keys.part } : {}),
      name: `Keying plug, ${header.pitchMm} mm`,
      quantity: keys.positions.length,
      from,
    });
  if (headerSide === 'replace') {
    const same = catalogue.parts.find(
      (p) =>
        p.kind === 'header' &&
        Math.abs(p.pitchMm - header.pitchMm) < 0.02 &&
        p.positions >= header.positions &&
        p.plating === header.plating &&
        (p.positions === header.positions || p.cut !== 'no'),
    );
    needs.push({
      ...(same ? { part: same.id } : {}),
      name: same?.name ?? `Header, ${header.positions} positions, ${header.pitchMm} mm, ${header.plating}`,
      quantity: 1,
      from,
    });
  }
  return needs;
}
