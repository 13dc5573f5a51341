/** What a search can be narrowed to, and what its results are grouped by. */
import { Column } from './column';

export const facets = ['machine', 'design', 'circuitKind', 'cause', 'year', 'by', 'state'] as const;
export type Facet = (typeof facets)[number];
export type Labels = Readonly<Partial<Record<Facet, string>>>;
export type Narrowing = Readonly<Partial<Record<Facet, string>>>;
export interface Counted {
  value: string;
  count: number;
}

/** One facet of every fix, as the number of its label: 100,000 labels are counted in a fraction of a millisecond. */
export class FacetColumn {
  private readonly codes = new Map<string, number>();
  private readonly labels: string[] = [];
  private readonly column = new Column(Uint32Array); // 0: none

  set(slot: number, label: string | undefined) {
    this.column.set(slot, label ? this.known(label) : 0);
  }
  /** The number of a label; undefined for one that no fix ever had. */
  codeOf(label: string): number | undefined {
    return this.codes.get(label);
  }
  at(slot: number): number {
    return this.column.get(slot);
  }
  /** How many of these slots have which label, most frequent first; those without one are not counted. */
  count(slots: Uint32Array): Counted[] {
    const counts = new Uint32Array(this.labels.length + 1);
    for (let k = 0; k < slots.length; k++) counts[this.column.get(slots[k]!)]!++;
    return this.labels
      .flatMap((value, k) => (counts[k + 1]! > 0 ? [{ value, count: counts[k + 1]! }] : []))
      .sort((a, b) => b.count - a.count || (a.value < b.value ? -1 : 1));
  }
  /** Only these slots stay, numbered anew in this order. */
  keep(slots: readonly number[]) {
    this.column.keep(slots);
  }

  private known(label: string): number {
    const known = this.codes.get(label);
    if (known !== undefined) return known;
    this.codes.set(label, this.labels.push(label));
    return this.labels.length;
  }
}
