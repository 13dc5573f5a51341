/** The tables of a board design. */
import * as z from 'zod';
import { boardDesign, header, headerName, net, netKinds, pin } from '@/lib/core/chart/schema';
import { choice, colour, line, number, text, texts, wires } from './cell-types';
import { faceColumns } from './face-columns';
import type { ColumnSpec, TableSpec } from './types';

const kindOf = (id: string) => netKinds.find((kind) => kind === id.split('.')[0]);

export const designTables: readonly TableSpec[] = [
  {
    key: 'nets',
    title: 'Lines',
    about: 'Every wire that leaves the boards: columns and rows of the matrices, direct inputs, drivers, supplies, ground.',
    shape: net,
    names: ['id'],
    complete: (record) => {
      const [, tail = ''] = String(record.id ?? '').split('.');
      const kind = kindOf(String(record.id ?? ''));
      return { ...(/^\d{1,2}$/.test(tail) && { number: Number(tail) }), ...(kind && { kind }), ...record };
    },
    columns: [
      { path: 'id', head: 'Line', type: text, need: true, mono: true },
      { path: 'colour', head: 'Wire', type: colour, need: true },
      { path: 'awg', head: 'Gauge', type: number, width: 'narrow', need: true },
      { path: 'part', head: 'Driven or read by', type: text, mono: true },
      { path: 'name', head: 'Name', type: text },
      { path: 'volts', head: 'Volts', type: number, width: 'narrow' },
      { path: 'supply', head: 'Current', type: choice(['dc', 'ac']), width: 'narrow' },
      { path: 'amps', head: 'Amps', type: number, width: 'narrow' },
      { path: 'fuse', head: 'Fuse', type: text },
      { path: 'fuseHolder', head: 'Fuse holder', type: text },
      { path: 'interlock', head: 'Interlock', type: text },
      { path: 'duty', head: 'Duty', type: number, width: 'narrow' },
      { path: 'insulationMm', head: 'Insulation, mm', type: number, width: 'narrow' },
      { path: 'runMetres', head: 'Longest run, m', type: number, width: 'narrow' },
      { path: 'storedMicrofarads', head: 'Stored, µF', type: number, width: 'narrow' },
      { path: 'bleederOhms', head: 'Bleeder, ohms', type: number, width: 'narrow' },
    ],
  },
  {
    key: 'headers',
    title: 'Headers',
    about: 'Each connector of the boards. Its pins come in the next table.',
    shape: header.omit({ pins: true }),
    names: ['id'],
    columns: [
      { path: 'id', head: 'Header', type: text, need: true, mono: true },
      { path: 'name', head: 'Name', type: text, width: 'wide' },
      ...faceColumns,
      { path: 'beside', head: 'Lines in the same loom', type: texts },
    ],
  },
  {
    key: 'pins',
    title: 'Pins',
    about: 'Which line each position carries. Wires only where they differ from their line, or are two.',
    shape: pin.extend({ header: headerName }),
    names: ['header', 'position'],
    columns: [
      { path: 'header', head: 'Header', type: text, need: true, mono: true },
      { path: 'position', head: 'Position', type: number, width: 'narrow', need: true, mono: true },
      { path: 'net', head: 'Line', type: line([...netKinds]), need: true, mono: true },
      { path: 'wires', head: 'Wires', type: wires, width: 'wide' },
    ],
  },
  {
    key: 'boards',
    title: 'Boards',
    about: 'The boards of this set.',
    shape: z.object({ designator: boardDesign.shape.boards.element.shape.designator, name: z.string().max(80) }),
    names: ['designator'],
    columns: [
      { path: 'designator', head: 'Board', type: text, need: true, mono: true },
      { path: 'name', head: 'Name', type: text, width: 'wide', need: true },
    ],
  },
];

/** One row each in the table of the design itself. */
export const designFields: readonly ColumnSpec[] = [
  { path: 'name', head: 'Name', type: text, need: true },
  { path: 'stripeOrder', head: 'A pair is printed', type: choice(['base-stripe', 'stripe-base']) },
  { path: 'matrix.polarity', head: 'Strobe', type: choice(['strobe-low', 'strobe-high']), need: true },
  { path: 'matrix.idle', head: 'Column not strobed', type: choice(['float', 'pulled', 'driven']), need: true },
  { path: 'matrix.rowSupplyVolts', head: 'Row supply, V', type: number, need: true },
  { path: 'matrix.thresholdRatio', head: 'Threshold, share of it', type: number, need: true },
  { path: 'matrix.strobe', head: 'The chart calls the strobed line', type: choice(['column', 'row']) },
  { path: 'matrix.rowPullOhms', head: 'Row pull-up, ohms', type: number },
  { path: 'matrix.driverVolts', head: 'Driver that is on, V', type: number },
  { path: 'matrix.diodeEnd', head: 'Diode stands between', type: choice(['contact-column', 'row-contact']) },
  { path: 'matrix.floatReads', head: 'A row without pull reads', type: choice(['open', 'closed', 'carry-over']) },
  { path: 'matrix.select', head: 'Columns are chosen by', type: choice(['latch', 'decoder']) },
  { path: 'notes', head: 'Notes', type: text },
];
