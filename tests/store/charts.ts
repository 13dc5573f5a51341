/** Small charts of our own for the store's tests; the store keeps them whole and reads only names and ids. */
import { boardDesign, machine } from '@/lib/core/chart/schema';

export const design = boardDesign.parse({
  format: 'fettlebook-board/1',
  id: 'SB-9',
  name: 'Test board',
  boards: [{ designator: 'A1', name: 'Driver' }],
  matrix: { polarity: 'strobe-low', idle: 'float', rowSupplyVolts: 12, thresholdRatio: 0.5 },
  nets: [],
  headers: [],
});

export const chartOf = (id: string, name: string, unit?: string) =>
  machine.parse({
    format: 'fettlebook-machine/1',
    id,
    name,
    unit,
    sort: 'test machine',
    design: design.id,
    numbering: { order: 'column-row' },
    switches: [{ column: 1, row: 1, name: 'Start' }],
  });
