/** The connector plan: every wire in order, its terminal, the housing, the key, the parts, the cautions and the order of work. */
import { headerIn, headersAndHalves } from '../chart/half-chart';
import { keysOnMachine } from '../chart/keys';
import { pinOf } from '../chart/names';
import type { Header } from '../chart/schema';
import type { Chart } from '../chart/types';
import { housingName } from '../chart/views';
import type { Catalogue, HousingPart, Stock, TerminalPart } from '../parts/schema';
import { cautionsFor } from './cautions';
import { partsFor } from './contacts';
import { reservoirsOf } from './discharge';
import { foundHere } from './found-here';
import { groupsOf, linksOf } from './groups';
import { chooseHousing } from './housing';
import { headerOf, housingOf, type JobShare } from './job-share';
import { loadProblems, loadsOf } from './load';
import { chooseHeader, keysOf, needsOf, terminalUse } from './needs';
import { pullTests, togetherTests, withoutPull } from './pull';
import { rowsOf } from './rows';
import { stepsFor } from './steps';
import type { ConnectorPlan, PlanResult, Problem } from './types';

export interface PlanChoices {
  headerSide: 'sound' | 'reflow' | 'replace';
  /** The old keying plugs come out whole and are used again. */
  saveKey: boolean;
  /** Positions whose pigtail was accepted. */
  pigtails?: readonly number[];
  /** Its shares of a job of several connectors, in place of a choice of its own. */
  job?: { housing: JobShare | null; header: JobShare | null };
}

/**
 * Plans the re-termination of one header's harness end, or of one half of an in-line connector (`X1F`): a new housing with a crimp terminal on
 * every wire. Unknown header: a message and a mend.
 */
export function planConnector(chart: Chart, headerId: string, catalogue: Catalogue, stock: Stock, choices: PlanChoices): PlanResult {
  const there = headerIn(chart, headerId);
  if (!there) return unknownHeader(chart, headerId);
  const { header, half } = there;
  if (!half) return planOf(chart, header, partsFor(catalogue, 'sockets'), stock, choices, null);
  const { title, contacts, mate } = half;
  // There is no board behind it.
  const own: PlanChoices = { ...choices, headerSide: 'sound' };
  return planOf(there.chart, header, partsFor(catalogue, contacts), stock, own, { title, contacts, mate });
}

function planOf(
  chart: Chart,
  charted: Header,
  catalogue: Catalogue,
  stock: Stock,
  choices: PlanChoices,
  half: ConnectorPlan['half'],
): PlanResult {
  const found = keysOnMachine(chart, charted.id);
  const header = { ...charted, keys: found.pins }; // this machine's pins go before its chart
  const { headerSide, saveKey, pigtails = [], job = null } = choices;
  const { choice: housing, housing: part } = housingFor(header, catalogue, stock, job?.housing ?? null);
  const offered = catalogue.parts.filter((p): p is TerminalPart => p.kind === 'terminal' && (!part || part.terminals.includes(p.id)));
  const rows = rowsOf({ chart, header, terminals: offered, catalogue, stock, pigtails: new Set(pigtails) });
  const terminals = terminalUse(rows, offered, stock);
  const keys = half?.contacts === 'pins' ? leftEmpty(header) : keysOf(header, catalogue, stock);
  const newHeader = headerSide !== 'replace' ? null : job?.header ? headerOf(job.header) : chooseHeader(header, catalogue, stock);
  const name = housingName(header.id);
  const loads = loadsOf(chart, header, rows, offered);
  const groups = groupsOf(chart, header);
  const reservoirs = reservoirsOf(chart, header);
  const work = { half, header, housingName: name, rows, terminals, housing, keys, newHeader, headerSide, saveKey, groups, reservoirs };
  const steps = stepsFor(work);
  const plan: ConnectorPlan = {
    header,
    housingName: name,
    half,
    rows,
    housing,
    newHeader,
    job,
    terminals,
    keys,
    pullTests: pullTests(rows),
    togetherTests: togetherTests(rows),
    loads,
    groups,
    links: linksOf(chart, groups),
    reservoirs,
    cautions: cautionsFor(chart, header, {
      solder: headerSide !== 'sound',
      cut: housing.how === 'cut' || housing.how === 'shared' || Boolean(newHeader?.cut),
    }),
    asFound: foundHere(chart, header),
    steps,
    minutes: steps.reduce((sum, s) => sum + s.minutes, 0),
    needs: needsOf({ half, header, housing, rows, terminals, keys, newHeader, headerSide, saveKey }),
    problems: [
      ...rows.flatMap((r) => r.problems),
      ...beyondEnd(header),
      ...(half?.contacts === 'pins' ? [] : keyProblems(keys, saveKey)),
      ...(half ? halvesApart(header, found.plug, half) : plugProblems(header, found.plug)),
      ...loadProblems(header, loads),
      ...withoutPull(rows),
      ...(housing.how === 'none' ? [{ level: 'error', message: housing.message, mend: housing.mend } satisfies Problem] : []),
    ],
  };
  return { ok: true, plan };
}

/** Its own choice, or its share of the job. */
function housingFor(header: Header, catalogue: Catalogue, stock: Stock, share: JobShare | null): ReturnType<typeof chooseHousing> {
  const part = share && catalogue.parts.find((p): p is HousingPart => p.kind === 'housing' && p.id === share.place.part);
  return share && part ? { choice: housingOf(share, stock), housing: part } : chooseHousing(header, catalogue, stock);
}

function unknownHeader(chart: Chart, headerId: string): PlanResult {
  const known = headersAndHalves(chart).map(({ id }) => id);
  return {
    ok: false,
    message: headerId === '' ? 'No header is chosen.' : `${chart.title} has no header ${headerId}.`,
    mend: known.length > 0 ? `Choose one of ${known.join(', ')}.` : 'Add the headers to the chart of this machine.',
  };
}

/** Wires that the table has no row for must not vanish. */
const beyondEnd = (header: Header): Problem[] =>
  header.pins
    .filter((p) => p.position > header.positions)
    .map((p) => ({
      level: 'error',
      position: p.position,
      message: `${pinOf(header.id, p.position)}, ${p.net}: ${header.id} has only ${header.positions} positions.`,
      mend: 'Count the positions on the header, then mend the chart.',
    }));

function keyProblems(keys: ConnectorPlan['keys'], saveKey: boolean): Problem[] {
  if (keys.positions.length === 0 || saveKey || keys.part !== null) return [];
  return [
    {
      level: 'warning',
      message: `Position ${keys.positions.join(' and ')} needs a keying plug, and the catalogue has none of this pitch.`,
      mend: 'Save the old one, or add a plug to the catalogue. An improvised plug works loose.',
    },
  ];
}

/** In a half with pins a key is a position without one: nothing to buy. */
const leftEmpty = ({ keys, positions }: Header): ConnectorPlan['keys'] => ({
  positions: [...new Set(keys)].filter((key) => key <= positions).sort((a, b) => a - b),
  part: null,
  onHand: 0,
});

/** The two halves were found keyed otherwise: they go together shifted or turned, or not at all. */
function halvesApart(header: Header, own: readonly number[], { mate, title }: NonNullable<ConnectorPlan['half']>): Problem[] {
  const at = (keys: readonly number[]) => (keys.length > 0 ? `at ${[...keys].sort((a, b) => a - b).join(' and ')}` : 'nowhere');
  if (at(own) === at(header.keys)) return [];
  return [
    {
      level: 'warning',
      message: `${title} was found keyed ${at(own)}, ${mate} ${at(header.keys)}.`,
      mend: `Key the new half as ${mate} is. Look first: they may have gone together shifted.`,
    },
  ];
}

/** The old housing was found keyed otherwise than the pins of its header. */
function plugProblems(header: Header, plug: readonly number[]): Problem[] {
  const at = (positions: readonly number[]) =>
    positions.length > 0 ? `at ${[...positions].sort((a, b) => a - b).join(' and ')}` : 'nowhere';
  if (at(plug) === at(header.keys)) return [];
  return [
    {
      level: 'warning',
      message: `The old housing of ${header.id} was found keyed ${at(plug)}, and the header has no pin ${at(header.keys)}.`,
      mend: 'Key the new housing as the pins are. Look first: the old one may have gone on shifted.',
    },
  ];
}
