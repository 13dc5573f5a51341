/** Reading a catalogue: findings by path, with a mend. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readCatalogue } from '@/lib/core/parts';
import { fixtureCatalogueJson } from './parts-fixture';

const changed = (id: string, change: object) => ({
  ...fixtureCatalogueJson,
  parts: fixtureCatalogueJson.parts.map((p) => (p.id === id ? { ...p, ...change } : p)),
});
const findings = (json: unknown) => {
  const result = readCatalogue(json);
  return result.ok ? [] : result.findings;
};

describe('readCatalogue', () => {
  it('reads a good one and fills in what may be left out', () => {
    const result = readCatalogue(fixtureCatalogueJson);
    expect(result.ok && result.value.currency).toBe('GBP');
    expect(result.ok && result.value.parts.find((p) => p.id === 'X-SLEEVE')).toMatchObject({ pack: 1 });
    expect(result.ok && result.value.parts.find((p) => p.id === 'T-254-S')).toMatchObject({ ratedWires: 1 });
  });

  it('reads the demo club’s own', () => {
    const json: unknown = JSON.parse(readFileSync(new URL('../../content/catalogue.json', import.meta.url), 'utf8'));
    expect(findings(json)).toEqual([]);
  });

  it('says what does not fit, where, and what to do', () => {
    expect(findings(changed('H-254-9', { positions: 'nine' }))).toMatchObject([
      { level: 'error', path: 'parts[0].positions', mend: expect.stringContaining('number') },
    ]);
    const [id] = findings(changed('K-254', { id: 'k 254' }));
    expect(id?.path).toBe('parts[12].id');
    expect(`${id?.message} ${id?.mend}`).toContain('capital letters');
    expect(findings(null)).toMatchObject([{ path: '(whole)' }]);
    expect(findings(changed('F-4S', { kind: 'spring' }))[0]?.path).toBe('parts[14].kind');
  });

  it('finds one id on two parts', () => {
    expect(findings(changed('H-254-11', { id: 'H-254-9' }))).toMatchObject([
      { rule: 'part-twice', path: 'parts[1].id', mend: 'Give each its own.' },
    ]);
  });

  it('finds a housing whose terminal is not there', () => {
    expect(findings(changed('H-396-6', { terminals: ['T-396-L', 'T-396-X'] }))).toMatchObject([
      { rule: 'unknown-terminal', path: 'parts[4].terminals', message: expect.stringContaining('T-396-X') },
    ]);
    expect(findings(changed('H-396-6', { terminals: ['K-254'] }))).toHaveLength(1);
  });

  it('finds ranges given the wrong way round', () => {
    expect(findings(changed('T-254-S', { awg: [30, 22] }))).toMatchObject([{ rule: 'gauge-order', path: 'parts[7].awg' }]);
    expect(findings(changed('T-254-S', { insulationMm: [2, 0.8] }))).toMatchObject([{ rule: 'insulation-order' }]);
  });
});
