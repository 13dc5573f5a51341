/** The state of a job, sign by sign. */
import { describe, expect, it } from 'vitest';
import { type JobContext, type JobSigns, jobState } from '@/lib/notebook/job-state';
import { fixtureCatalogue } from '../core/parts-fixture';

const blank: JobSigns = {
  tools: 0,
  cause: '',
  place: '',
  remedy: '',
  mended: false,
  proved: false,
  ticks: { done: 0, of: 0 },
  needs: [],
};
const nothing = { here: {}, elsewhere: {}, used: {} };
const state = (signs: Partial<JobSigns>, context: Partial<JobContext> = {}) =>
  jobState(
    { ...blank, ...signs },
    { catalogue: fixtureCatalogue, stock: {}, reserved: nothing, aside: null, writtenUp: false, ...context },
  );
const needs = [{ part: 'K-254', pieces: 3 }];

describe('a job', () => {
  it.each<[Partial<JobSigns>, Partial<JobContext>, string]>([
    [{}, {}, 'reported'],
    [{ tools: 1 }, {}, 'looking'],
    [{ tools: 1, cause: 'diode-open' }, {}, 'found'],
    [{ cause: 'diode-open', needs }, {}, 'waiting for parts'],
    [{ cause: 'diode-open', needs }, { stock: { 'K-254': 3 } }, 'found'],
    [{ cause: 'diode-open', needs }, { stock: { 'K-254': 3 }, reserved: { ...nothing, elsewhere: { 'K-254': 1 } } }, 'waiting for parts'],
    [{ cause: 'diode-open', needs }, { reserved: { ...nothing, used: { 'K-254': 3 } } }, 'found'],
    [{ cause: 'diode-open', remedy: 'new one' }, {}, 'mending'],
    [{ ticks: { done: 2, of: 9 } }, {}, 'mending'],
    [{ ticks: { done: 0, of: 9 } }, {}, 'reported'],
    [{ ticks: { done: 9, of: 9 } }, {}, 'to prove'],
    [{ mended: true }, {}, 'to prove'],
    [{ mended: true, proved: true }, {}, 'proved'],
    [{ mended: true, proved: true }, { writtenUp: true }, 'written up'],
    [{ mended: true }, { writtenUp: true }, 'to prove'],
    [{ tools: 1 }, { aside: 'The owner is away' }, 'set aside'],
    [{ mended: true, proved: true }, { aside: 'The owner is away' }, 'proved'],
  ])('with %j and %j is %s', (signs, context, expected) => expect(state(signs, context).state).toBe(expected));

  it('says why', () => {
    expect(state({ needs }).why).toMatch(/^Short of 3 × /);
    expect(state({ ticks: { done: 2, of: 9 } }).why).toBe('2 of 9 steps of the plan are ticked.');
    expect(state({}, { aside: 'The owner is away' }).why).toBe('The owner is away');
  });
});
