/** Small circuits of gates with one output each, for the examples of diagnosis.json. A broken gate puts out anything of the domain. */
import type { Consistent } from '@/lib/core/diagnosis/conflicts';

const functions: Record<string, (a: number, b: number) => number> = {
  and: (a, b) => a & b,
  or: (a, b) => a | b,
  xor: (a, b) => a ^ b,
  mul: (a, b) => a * b,
  add: (a, b) => a + b,
};
export type Values = Readonly<Record<string, number>>;
export type Gates = readonly (readonly string[])[]; // name, function, input, input, output
export interface Circuit {
  gates: Gates;
  inputs: Values;
  domain: readonly number[];
}

export const bit = [0, 1];
/** Enough for the polybox: every value that its equations force lies well inside, and several are free where none is forced. */
export const small = Array.from({ length: 13 }, (_, i) => i);
export const namesOf = ({ gates }: Circuit): string[] => gates.map((gate) => gate[0] as string);

/** Every assignment of the outputs that agrees with the healthy gates and with what is known. */
export function* solutions({ gates, inputs, domain }: Circuit, known: Values, healthy: ReadonlySet<string>): Generator<Values> {
  function* settle(i: number, values: Values): Generator<Values> {
    const gate = gates[i];
    if (!gate) return yield values;
    const [name, does, a, b, out] = gate as [string, string, string, string, string];
    const computed = functions[does]?.(values[a] ?? Number.NaN, values[b] ?? Number.NaN) ?? Number.NaN;
    const fixed = known[out];
    const options = healthy.has(name) ? [computed] : fixed === undefined ? domain : [fixed];
    for (const value of options) if (fixed === undefined || fixed === value) yield* settle(i + 1, { ...values, [out]: value });
  }
  yield* settle(0, inputs);
}

export const consistentWith =
  (circuit: Circuit, known: Values): Consistent =>
  (healthy) =>
    !solutions(circuit, known, healthy).next().done;

/** What a set of broken gates says of one output, knowing others: its value, `null` when it says nothing, undefined when impossible. */
export function predicted(circuit: Circuit, known: Values, broken: readonly string[], output: string): number | null | undefined {
  const healthy = new Set(namesOf(circuit).filter((name) => !broken.includes(name)));
  let value: number | undefined;
  for (const solution of solutions(circuit, known, healthy)) {
    if (value !== undefined && solution[output] !== value) return null;
    value = solution[output];
  }
  return value;
}
