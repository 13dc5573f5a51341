/** What the endpoints of a machine answer: a lookup with its guesses, a plan with pigtails, findings held against the catalogue. */
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { PUT as putDesignRoute } from '@/app/api/designs/[id]/route';
import { GET as chart } from '@/app/api/machines/[id]/chart/route';
import { GET as plan } from '@/app/api/machines/[id]/connector-plan/route';
import { GET as lookup } from '@/app/api/machines/[id]/lookup/route';
import { makeToken } from '@/lib/access/tokens';
import type { ConnectorPlan } from '@/lib/core/harness/types';
import type { LookupResult } from '@/lib/core/lookup/types';
import type { Route } from '@/lib/http/endpoint';
import { putDesign, putMachine } from '@/lib/store/machines';
import { putCatalogue } from '@/lib/store/parts';
import { bearer, join } from '../access/house';
import { fixtureDesign, fixtureMachine } from '../core/fixture';
import { fixtureCatalogue } from '../core/parts-fixture';
import { type TestDatabase, testDatabase } from '../store/cluster';

let db: TestDatabase;
let headers: Headers;
const id = fixtureMachine.id;
beforeEach(async () => {
  db = await testDatabase();
  headers = bearer((await makeToken(await join('Ines', 'owner'), 'tests')).token);
  await putDesign(fixtureDesign, null, null);
  await putMachine(fixtureMachine, null, null);
});
afterEach(() => db.close());

async function ask<T>(route: Route, query: Record<string, string> = {}): Promise<{ status: number; body: T }> {
  const url = `http://127.0.0.1:3000/?${new URLSearchParams(query)}`;
  const response = await route(new Request(url, { headers }), { params: Promise.resolve({ id }) });
  return { status: response.status, body: (await response.json()) as T };
}

describe('a lookup', () => {
  test('that fits nothing brings its guesses, and one of them can be picked', async () => {
    const { body } = await ask<Extract<LookupResult, { outcome: 'none' }>>(lookup, { clue: 'white/orange' });
    expect(body.outcome).toBe('none');
    const [first] = body.guesses ?? [];
    expect(first).toMatchObject({ kind: 'line', id: 'switch-row.6', guess: true, score: expect.any(Number) });
    expect(first?.reasons.join()).toContain('a guess');
    const picked = await ask<LookupResult>(lookup, { clue: 'white/orange', pick: `${first?.kind}:${first?.id}` });
    expect(picked.body).toMatchObject({ outcome: 'one', candidate: { guess: true }, line: { net: 'switch-row.6' } });
  });
  test('that has an answer gives it whole, and guesses nothing', async () => {
    const { body } = await ask<Record<string, unknown>>(lookup, { clue: 'spinner' });
    expect(body).toMatchObject({ outcome: 'one', circuit: { circuit: { number: '46' } } });
    expect(body).not.toHaveProperty('guesses');
  });
});

describe('a connector plan', () => {
  beforeEach(() => putCatalogue(fixtureCatalogue, null, null).then(() => undefined));
  const chosen = (body: ConnectorPlan) => body.rows.flatMap((r) => (r.pigtail?.chosen ? [r.position] : []));
  test('takes the positions whose wire goes on a pigtail', async () => {
    expect(chosen((await ask<ConnectorPlan>(plan, { header: 'A3J4' })).body)).toEqual([]);
    const { body } = await ask<ConnectorPlan>(plan, { header: 'A3J4', pigtails: '2,7' });
    expect(chosen(body)).toEqual([2, 7]);
    expect(body.needs.some((n) => n.note === 'for a pigtail')).toBe(true);
    expect(body.job).toBeNull();
  });
  test.each(['seven', '2,', '2;7', '123'])('refuses the pigtails %j and says how to write them', async (pigtails) => {
    const { status, body } = await ask<{ errors: { field: string; message: string }[] }>(plan, { header: 'A3J4', pigtails });
    expect(status).toBe(400);
    expect(body.errors).toMatchObject([{ field: 'pigtails', message: 'write positions with commas between them, such as 3,7' }]);
  });
});

describe('the findings of a chart', () => {
  const rules = async () => (await ask<{ findings: { rule: string }[] }>(chart)).body.findings.map((f) => f.rule);
  test('name gauges that none of the club’s terminals takes, once it has terminals', async () => {
    const before = await rules();
    expect(before).not.toContain('gauge-without-terminal');
    const parts = fixtureCatalogue.parts.filter((p) => p.kind !== 'terminal' || p.pitchMm !== 2.54);
    await putCatalogue({ ...fixtureCatalogue, parts }, null, null);
    expect(await rules()).toContain('gauge-without-terminal');
  });
  test('of a board design that is put in say the same', async () => {
    await putCatalogue({ ...fixtureCatalogue, parts: fixtureCatalogue.parts.filter((p) => p.id !== 'T-254-L') }, null, null);
    const design = structuredClone(fixtureDesign);
    Object.assign(design.nets.find((n) => n.id === 'switch-row.1')!, { awg: 18 });
    const request = new Request('http://127.0.0.1:3000/', {
      method: 'PUT',
      headers: new Headers([...headers, ['content-type', 'application/json']]),
      body: JSON.stringify({ design, version: 1 }),
    });
    const response = await putDesignRoute(request, { params: Promise.resolve({ id: design.id }) });
    const { findings } = (await response.json()) as { findings: { rule: string; message: string }[] };
    expect(findings.filter((f) => f.rule === 'gauge-without-terminal').map((f) => f.message)).toContain(
      'No terminal of 2.54 mm takes 18 AWG at A3J4-1.',
    );
  });
});
