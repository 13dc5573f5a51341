/** A page with everything it computes from. */
import { evaluatePage } from '@/lib/notebook/evaluate';
import { fromMarkdown } from '@/lib/notebook/markdown';
import type { PageContent } from '@/lib/notebook/types';
import { fixtureChart } from '../core/fixture';
import { fixtureCatalogue, fixtureStock } from '../core/parts-fixture';

export const context = { chart: fixtureChart, catalogue: fixtureCatalogue, stock: fixtureStock, record: {} };
export const read = (text: string): PageContent => {
  const result = fromMarkdown(text);
  if (!result.ok || result.notices.length > 0) throw new Error(JSON.stringify(result));
  return result.content;
};
export const evaluated = (text: string) => evaluatePage(read(text), context);
/** A repair as it is written up at the bench: neither the wire nor the pin stands in its words. */
export const spinner = `# Spinner misses counts when warm

## Complaint

From cold the spinner counts every turn. After half an hour it drops about one in four.

The slings never miss.

## Found

The housing is warm and rocks on its header.

\`\`\`widget fix-record record
by: "Ines Okafor"
cause: "worn-contact"
circuit.26: true
circuit.46: true
circuit.52: false
minutes: 95
on: "2026-11-21"
outcome: "mended"
part.T-254-S: 10
place: "the plug of the switch rows"
proof: "24 clean presses, cold and warm"
remedy: "New housing, every wire crimped"
symptom: "Spinner drops one turn in four once warm"
watch: "Row 6 after an evening’s play"
\`\`\`
`;
