/** The circuit itself: what a clue in the query names on each machine's chart. */

import { foundColours } from '@/lib/core/chart/found';
import type { Chart } from '@/lib/core/chart/types';
import { lookup } from '@/lib/core/lookup';
import type { Candidate, LookupResult } from '@/lib/core/lookup/types';
import { Phrases } from '@/lib/core/symptom/phrases';
import { wordsOf } from '@/lib/core/symptom/tokens';
import { namesOn } from './language';
import { longestQuery } from './read-query';
import type { ClueAnswer, QueryPart } from './types';

const mostAnswers = 6;
const mostOfChart = 2;
const close = 0.1; // of scores 0…1: as likely meant as the first
const vague = 3; // more answers than this that are as likely say that the clue is no clue
const sentence = 4; // more words than this describe a symptom, they do not name a circuit

/** From every chart, or those of the machines that the query names: the one answer, or the best two that are equally likely. */
export function answer(query: string, parts: QueryPart[], charts: Chart[]): ClueAnswer[] {
  const named = parts.filter((p) => p.as === 'machine').map((p) => p.value);
  const rest = parts.filter((p) => p.as !== 'machine');
  if (rest.length === 0) return [];
  const clue = named.length > 0 ? rest.map((p) => p.text).join(' ') : query.slice(0, longestQuery);
  const told = rest.filter((p) => p.as === 'word').length > sentence;
  return charts
    .filter((c) => named.length === 0 || named.includes(c.machine.id))
    .flatMap((chart) => (told ? foundIn(chart, clue, rest) : found(chart, clue)).map((one) => ({ chart, one })))
    .sort((a, b) => b.one.candidate.score - a.one.candidate.score) // equal ones stay in the order of the machines
    .slice(0, mostAnswers)
    .map(({ chart, one }) => answerOf(chart, one));
}

/** A sentence is read as a clue where it has one, or a name that the chart knows: to read all of it on every chart takes long. */
function foundIn(chart: Chart, told: string, parts: QueryPart[]): One[] {
  const names = namesOf(chart).find(wordsOf(told))('name');
  if (names.length === 0 && parts.every((p) => p.as === 'word')) return [];
  return found(chart, told).filter(({ candidate }) => candidate.reasons.every((reason) => !inPart.test(reason)));
}

const known = new WeakMap<Chart, Phrases>();
function namesOf(chart: Chart): Phrases {
  const made = known.get(chart);
  if (made) return made;
  const names = new Phrases();
  for (const name of namesOn([chart])) names.add(name, { list: 'name', id: name, name });
  known.set(chart, names);
  return names;
}

type One = Extract<LookupResult, { outcome: 'one' }>;
const inPart = /^(does not fit|its name has|its name begins|its place has)/; // reasons that a sentence gives by chance
const leftOver = /^(does not fit|nothing here is called)/; // two answers that each miss a part of the clue are none

function found(chart: Chart, clue: string): One[] {
  const result = lookup(chart, clue);
  if (result.outcome === 'one') return [result];
  if (result.outcome !== 'several') return [];
  const first = result.candidates[0]?.score ?? 0;
  const likely = result.candidates.filter((c) => offered.has(c.kind) && first - c.score < close);
  if (likely.length > vague) return [];
  return likely.slice(0, mostOfChart).flatMap((candidate) => {
    const picked = lookup(chart, clue, `${candidate.kind}:${candidate.id}`);
    return picked.outcome === 'one' && picked.candidate.reasons.every((reason) => !leftOver.test(reason)) ? [picked] : [];
  });
}

const offered = new Set<Candidate['kind']>(['line', 'pin', 'header', 'circuit']);

function answerOf(chart: Chart, { candidate, circuit, line }: One): ClueAnswer {
  const lines = circuit?.lines ?? (line ? [line] : []);
  return {
    machineId: chart.machine.id,
    machine: chart.title,
    kind: candidate.kind,
    id: candidate.id,
    title: candidate.title,
    wires: [...new Set(lines.flatMap((l) => [l.colour, ...foundColours(l.asFound)]))],
    pins: lines.flatMap((l) => l.taps.map((t) => t.pin)),
    reason: candidate.reasons.join(', '),
  };
}
