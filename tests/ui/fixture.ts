/** Models for the views, of the demo club's main machine: a plan with every kind of row, a tally, a fix record. */
import type { ConnectorPlan, Pigtail, PlanRow } from '@/lib/core/harness/types';
import { faceView, lookup } from '@/lib/core/lookup';
import type { LookupResult } from '@/lib/core/lookup/types';
import type { Model as LookupModel } from '@/lib/widgets/circuit-lookup/definition';
import type { Model as PlanModel } from '@/lib/widgets/connector-plan/definition';
import type { Model as RecordModel } from '@/lib/widgets/fix-record/definition';
import type { Model as TallyModel } from '@/lib/widgets/parts-tally/definition';
import { fixtureChart } from '../core/fixture';

const present = <T>(value: T | null | undefined): T => {
  if (value === null || value === undefined) throw new Error('the fixture lacks it');
  return value;
};

export const face = present(faceView(fixtureChart, 'A3J4', [7]));

export const lookupModel = (clue: string): LookupModel => ({
  clue,
  machine: fixtureChart.title,
  chart: fixtureChart,
  result: lookup(fixtureChart, clue),
});
export const severalModel: LookupModel = {
  clue: 'grey',
  machine: fixtureChart.title,
  chart: fixtureChart,
  result: {
    outcome: 'several',
    clue: 'grey',
    candidates: [
      { kind: 'line', id: 'switch-row.6', title: 'Row 6', reasons: ['grey/orange is row 6'], score: 0.9 },
      { kind: 'circuit', id: '46', title: '46 Spinner', reasons: ['its row is grey/orange', 'name begins with “sp”'], score: 0.8 },
    ],
  } satisfies LookupResult,
};

const terminal = { part: 'T-254-S', name: 'Terminal, tin, 22 to 30 AWG', stripMm: 3.2 };
const pigtail: Pigtail = {
  why: 'fits-none',
  chosen: false,
  awg: 24,
  insulationMm: 1.4,
  lengthMm: 150,
  colour: 'grey/brown',
  terminal,
  splice: { part: 'X-SPLICE', name: 'Splice connector', onHand: 17 },
  slackMm: 40,
};
const rows: PlanRow[] = face.positions.map((p) => ({
  position: p.position,
  key: p.key,
  empty: !p.key && p.wires.length === 0,
  wires: p.wires,
  net: p.net,
  label: p.label,
  goesTo: p.position === 7 ? 'Splice S2, then 16 and 46' : p.key ? '' : 'Coin door, first',
  equivalentAwg: p.wires.length > 1 ? 18.98 : (p.wires[0]?.awg ?? null),
  terminal: p.wires.length === 0 || p.position === 9 ? null : terminal,
  pigtail: p.position === 9 || p.position === 11 ? { ...pigtail, why: p.position === 9 ? 'fits-none' : 'two-wires' } : null,
  problems:
    p.position === 9
      ? [
          {
            level: 'error',
            position: 9,
            message: 'grey/brown at 9, 16 AWG, is too thick for every terminal of this pitch',
            mend: 'Splice a 24 AWG tail to it outside the housing.',
          },
        ]
      : [],
}));

export const plan: ConnectorPlan = {
  header: face.header,
  housingName: 'A3P4',
  half: null,
  rows,
  housing: {
    how: 'cut',
    part: 'H-254-16',
    name: 'Housing, 16 positions',
    positions: 11,
    from: 16,
    lost: 1,
    offcut: 4,
    onHand: 6,
    cut: 'sawn',
  },
  newHeader: null,
  job: null,
  terminals: [
    { part: 'T-254-S', name: 'Terminal, tin, 22 to 30 AWG', fitted: 9, spare: 1, samples: 2, total: 12, onHand: 140 },
    { part: 'T-254-L', name: 'Terminal, tin, 18 to 20 AWG', fitted: 1, spare: 1, samples: 2, total: 4, onHand: 5 },
  ],
  keys: { positions: [4], part: 'K-254', onHand: 0 },
  pullTests: [{ awg: 24, newtons: 22.3, standard: 'The table', beside: [{ standard: 'Another table', newtons: 44.5 }] }],
  togetherTests: [{ position: 11, wires: 'black 22 AWG with black 22 AWG', awg: 22, newtons: 35.6 }],
  loads: [
    {
      position: 1,
      wire: 'grey/blue 24 AWG',
      net: 'switch-row.1',
      label: 'Row 1',
      amps: 1.25,
      sharedBy: 2,
      terminalAmps: 2.7,
      derating: { loaded: 3, factor: 0.9 },
      wireAmps: 2,
      drop: { volts: 0.63, percent: 10, metres: 3 },
      fuse: { text: 'F3, 1 A slow', amps: 1 },
      level: 'warning',
    },
    {
      position: 11,
      wire: 'black 22 AWG with black 22 AWG',
      net: 'ground',
      label: 'Ground',
      amps: null,
      sharedBy: 1,
      terminalAmps: 2.7,
      derating: { loaded: 3, factor: 0.9 },
      wireAmps: 3,
      drop: null,
      fuse: null,
      level: 'unknown',
    },
  ],
  groups: [
    { net: 'switch-row.1', label: 'Row 1', positions: [1, 2] },
    { net: 'ground', label: 'Ground', positions: [11] },
  ],
  links: [{ positions: [1, 2, 11], why: 'through a switch, closed at rest' }],
  reservoirs: [
    {
      net: 'supply.coil',
      label: 'Coil supply',
      microfarads: 4700,
      volts: 52,
      joules: 6.35,
      live: true,
      flagged: true,
      bleed: { ohms: 4700, toLimit: 4.5, toFive: 51.7 },
    },
  ],
  asFound: [
    {
      found: {
        id: 'right-sling-row',
        on: '2024-05-03',
        by: 'Wen Halloran',
        place: { switch: '44', net: 'switch-row.4' },
        manual: 'Row 4 at the switch, grey/tan',
        here: 'The last run to the switch is pink/white',
        wire: 'pink/white',
        why: 'Burnt run replaced.',
        photo: 'b'.repeat(64),
      },
      positions: [5],
      where: '44 Right sling, row 4 at 5',
    },
  ],
  cautions: [
    { id: 'mains', title: 'Mains plug out before the housing comes off', text: 'Pull the plug from the wall and keep it in sight.' },
    { id: 'charge', title: 'The 52 V coil supply beside it holds charge', text: 'Measure it, do not count seconds.' },
  ],
  steps: [
    { id: 'power-off', title: 'Power off, mains plug out', detail: 'Keep the plug in sight.', minutes: 1 },
    { id: 'charge', title: 'Stored charge measured', detail: 'Below 5 V before anything is touched.', minutes: 2 },
    { id: 'wires', title: 'Wires moved, one at a time', detail: '', minutes: 30 },
  ],
  minutes: 33,
  needs: [],
  problems: rows.flatMap((r) => r.problems),
};

const ines = { by: 'Ines Okafor', at: '2026-11-21T10:02:00.000Z' };
export const planModel: PlanModel = {
  machine: fixtureChart.title,
  chart: fixtureChart,
  headers: [...fixtureChart.headers.values()].map((h) => ({ id: h.id, name: h.name ?? '', positions: h.positions })),
  header: 'A3J4',
  headerSide: 'reflow',
  saveKey: false,
  result: { ok: true, plan },
  spoken: [],
  ticks: { 'power-off': ines, charge: ines },
  seated: { 1: ines, 2: ines, 3: ines },
  tugged: { 1: ines, 2: ines },
  done: 2,
  of: 3,
};

export const tallyModel: TallyModel = {
  tally: {
    currency: 'GBP',
    orderPence: 180,
    unpriced: 1,
    lines: [
      {
        part: 'K-254',
        name: 'Keying plug',
        needed: 1,
        from: ['connector plan A3J4'],
        onHand: 0,
        reserved: 0,
        elsewhere: 0,
        holders: [],
        used: 0,
        short: 1,
        packs: 1,
        toOrder: 10,
        costPence: 180,
        supplier: 'Gullwick',
        place: 'Drawer 4',
        notes: [],
      },
      {
        part: 'H-254-16',
        name: 'Housing, 16 positions',
        needed: 1,
        from: ['connector plan A3J4'],
        onHand: 6,
        reserved: 0,
        elsewhere: 0,
        holders: [],
        used: 0,
        short: 0,
        packs: 0,
        toOrder: 0,
        costPence: null,
        supplier: '',
        place: 'Drawer 2',
        notes: ['cut to 11'],
      },
      {
        name: 'Desoldering braid',
        needed: 1,
        from: ['typed'],
        onHand: null,
        reserved: 0,
        elsewhere: 0,
        holders: [],
        used: 0,
        short: 1,
        packs: 0,
        toOrder: 1,
        costPence: null,
        supplier: '',
        place: '',
        notes: [],
      },
    ],
  },
  lines: [{ id: 'braid', name: 'Desoldering braid', quantity: 1 }],
  choices: [
    { id: 'K-254', name: 'Keying plug' },
    { id: 'H-254-16', name: 'Housing, 16 positions' },
  ],
};

export const recordModel: RecordModel = {
  symptom: 'Spinner, tide gate and second boat lock miss about one in four once warm',
  circuits: [
    {
      number: '46',
      name: 'Spinner',
      known: true,
      wires: ['violet/yellow', 'grey/orange'],
      pins: ['A3J6-5', 'A3J4-7'],
      headers: ['A3J6', 'A3J4'],
      press: [],
    },
    { number: '99', name: '', known: false, wires: [], pins: [], headers: [], press: [] },
  ],
  cause: 'worn-contact',
  causeName: 'Worn contact in a housing',
  place: 'A3P4-7',
  placePin: 'A3J4-7',
  placeHeader: 'A3J4',
  placeWires: ['grey/orange'],
  remedy: 'Housing replaced and crimped',
  proof: '24 clean presses',
  proofTests: [],
  minutes: 95,
  outcome: 'mended',
  outcomeName: 'Mended',
  on: '2026-11-21',
  by: 'Ines Okafor',
  watch: 'The splice S2, if it fades again',
  parts: [{ id: 'H-254-16', name: 'Housing, 16 positions', quantity: 1 }],
  causes: [
    { id: 'worn-contact', name: 'Worn contact in a housing' },
    { id: 'other', name: 'Something else' },
  ],
  outcomes: [
    { id: 'open', name: 'Still open' },
    { id: 'mended', name: 'Mended' },
    { id: 'watching', name: 'Mended, being watched' },
    { id: 'not-found', name: 'Fault not found' },
  ],
  allCircuits: [{ number: '46', name: 'Spinner' }],
  allParts: [{ id: 'H-254-16', name: 'Housing, 16 positions' }],
};
