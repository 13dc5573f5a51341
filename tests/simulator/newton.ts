/** Node voltages of one component: Newton's method with junction limiting over a symmetric factorisation. */
import type { Component } from './circuit';

/** A source behind a resistance at a node. */
export interface Source {
  index: number;
  volts: number;
  ohms: number;
}
export interface Diode {
  saturationAmps: number;
  emissionVolts: number;
}
const mostRounds = 200;
const smallestSiemens = 1e-12; // across every junction

/** Voltages at the nodes of the component. Throws when it does not settle: the circuit is then not one of ours. */
export function voltages(part: Component, sources: readonly Source[], diode: Diode): Float64Array {
  const { size: n, diodes } = part;
  const pairs = diodes.length / 2;
  const base = part.conductance.slice();
  const feed = part.current.slice();
  for (const { index, volts, ohms } of sources) {
    base[index * n + index]! += 1 / ohms;
    feed[index]! += volts / ohms;
  }
  const { saturationAmps: is, emissionVolts: vt } = diode;
  const critical = vt * Math.log(vt / (Math.SQRT2 * is));
  const across = new Float64Array(pairs); // the junction voltages that the present line is drawn at
  const matrix = new Float64Array(n * n);
  const x = new Float64Array(n);
  for (let round = 0; round < mostRounds; round++) {
    matrix.set(base);
    x.set(feed);
    for (let d = 0; d < pairs; d++) {
      const [p, q] = [diodes[2 * d]!, diodes[2 * d + 1]!];
      const v = across[d]!;
      const e = v < -20 * vt ? 0 : Math.exp(v / vt);
      const g = (is * e) / vt + smallestSiemens;
      const current = is * (e - 1) + smallestSiemens * v - g * v; // of the tangent, at no voltage
      if (p >= 0) {
        matrix[p * n + p]! += g;
        x[p]! -= current;
      }
      if (q >= 0) {
        matrix[q * n + q]! += g;
        x[q]! += current;
      }
      if (p >= 0 && q >= 0) {
        matrix[p * n + q]! -= g;
        matrix[q * n + p]! -= g;
      }
    }
    solve(matrix, x, n);
    let moved = 0;
    for (let d = 0; d < pairs; d++) {
      const [p, q] = [diodes[2 * d]!, diodes[2 * d + 1]!];
      const wanted = (p >= 0 ? x[p]! : 0) - (q >= 0 ? x[q]! : 0);
      const next = limited(wanted, across[d]!, vt, critical);
      moved = Math.max(moved, Math.abs(wanted - across[d]!), Math.abs(next - wanted));
      across[d] = next;
    }
    if (moved < 1e-6) return x;
  }
  throw new Error(`The circuit did not settle in ${mostRounds} rounds.`);
}

/** Keeps one step of a junction within what its exponential can follow. */
function limited(wanted: number, before: number, vt: number, critical: number): number {
  if (wanted <= critical || Math.abs(wanted - before) <= 2 * vt) return wanted;
  if (before <= 0) return vt * Math.log(wanted / vt);
  const step = 1 + (wanted - before) / vt;
  return step > 0 ? before + vt * Math.log(step) : critical;
}

/** Solves a symmetric positive definite system in place: L D Lᵀ, no pivoting needed. */
function solve(m: Float64Array, x: Float64Array, n: number): void {
  for (let k = 0; k < n; k++) {
    const pivot = m[k * n + k]!;
    for (let i = k + 1; i < n; i++) {
      const below = m[i * n + k]!;
      if (below === 0) continue;
      const factor = below / pivot;
      for (let j = k + 1; j < n; j++) m[i * n + j]! -= factor * m[k * n + j]!;
      x[i]! -= factor * x[k]!;
    }
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i]!;
    for (let j = i + 1; j < n; j++) sum -= m[i * n + j]! * x[j]!;
    x[i] = sum / m[i * n + i]!;
  }
}
