/** What differs between two charts: a few lines in one table, many opened table by table. */
import { expect, test } from 'vitest';
import { differences } from '@/lib/core/chart/differences';
import { ChangeList } from '@/lib/ui/change-list';
import { fixtureMachine } from '../core/fixture';
import { render, tags, textOf } from './markup';

const renamed = (switches: number) => ({
  ...fixtureMachine,
  sort: 'another sort',
  switches: fixtureMachine.switches.map((s, i) => (i < switches ? { ...s, name: `Other ${i}`, location: `Elsewhere ${i}` } : s)),
});
const html = (switches: number) => render(<ChangeList changes={differences(fixtureMachine, renamed(switches))} from="before" to="after" />);
const count = (page: string, name: string) => tags(page).filter((tag) => tag.name === name).length;

test('a few stand in one table', () => {
  const page = html(2);
  expect([count(page, 'table'), count(page, 'details')]).toEqual([1, 0]);
  expect(textOf(page)).toContain('Other 1');
});

test('many are opened table by table, each with its count; a short table stands open', () => {
  const many = Math.ceil(45 / 2);
  expect(fixtureMachine.switches.length).toBeGreaterThanOrEqual(many);
  const page = html(many);
  const changes = differences(fixtureMachine, renamed(many));
  expect(textOf(page)).toContain(`Switches: ${changes.length - 1} differences`);
  expect(textOf(page)).toContain('The whole: 1 difference');
  const folds = tags(page).filter((tag) => tag.name === 'details');
  expect(folds.map((fold) => fold.attrs.has('open')).sort()).toEqual([false, true]);
  expect(count(page, 'tr') - count(page, 'table')).toBe(changes.length); // nothing is left out
});
