/** Phantom closures of scanned matrices. Source: see phantoms.json, rows marked text are published, rows marked computed follow its model. */
import { describe, expect, it } from 'vitest';
import { hold, row } from './held';
import reference from './phantoms.json';
import type { Physical } from './types';

const numberOf = (name: string) => name.replace(/^C(\d+)R(\d+)$/, '$1$2');
const cells = (cols: number, rows: number) => Array.from({ length: cols * rows }, (_, i) => `${Math.floor(i / rows) + 1}${(i % rows) + 1}`);

describe('phantom closures', () => {
  it.each(reference.rows)('$name', (one) => {
    const without = one.diodes === 'none' ? cells(one.cols, one.rows) : Object.keys(one.faults ?? {}).map(numberOf);
    const faults: Physical[] = [
      ...without.map((n): Physical => ({ does: 'diode-bypassed', switch: n })),
      ...(one.links ?? []).map(([a, b]): Physical => ({ does: 'join', lines: [row(Number(a?.slice(1))), row(Number(b?.slice(1)))] })),
    ];
    const found = hold({ size: [one.cols, one.rows], held: one.closed.map(numberOf), faults });
    expect(found.shown).toEqual(one.reads.map(numberOf).sort());
  });
});
