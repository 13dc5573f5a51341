/** What taking a paste over would change, in words. */
import { expect, test } from 'vitest';
import type { TableFinding } from '@/lib/core/chart/entry';
import { Outcome } from '@/lib/ui/entry/paste-outcome';
import type { PasteRead } from '@/lib/ui/entry/use-paste';
import { fixtureDesign, fixtureMachine } from '../core/fixture';
import { render, textOf } from './markup';

const chart = { machine: fixtureMachine, design: fixtureDesign };
const finding = (rule: string, row: number): TableFinding => ({
  level: 'error',
  rule,
  row,
  column: 1,
  message: `Thing ${row} cannot be placed`,
  mend: 'Correct the place.',
});
const shown = (findings: TableFinding[]) =>
  ({
    read: { findings: [], not: [] },
    applied: { chart, findings, changes: { machine: [], design: [] } },
  }) as unknown as PasteRead;
const words = (findings: TableFinding[], waits = false) =>
  textOf(
    render(
      <Outcome
        id="paste"
        kind="machine"
        shown={shown(findings)}
        chart={chart}
        sharers={[]}
        waits={waits}
        conflicts="keep"
        onConflicts={() => {}}
        withDesign
        onWithDesign={() => {}}
      />,
    ),
  );

test('what hangs on a question waits for its answer', () => {
  expect(words([])).toContain('Nothing of it would change the chart.');
  expect(words([], true)).toContain('Nothing of it changes the chart yet: answer what is asked above.');
});

test('refusals of one kind are folded after three, and none is left out', () => {
  const many = Array.from({ length: 15 }, (_, i) => finding('no-such-line', i + 1));
  const said = words([...many, finding('other', 20)]);
  expect(said).toContain('and 12 more of this kind');
  for (const { row } of many) expect(said).toContain(`Thing ${row} cannot`);
  expect(said).toContain('Thing 20 cannot');
  expect(words(many.slice(0, 3))).not.toContain('more of this kind');
});
