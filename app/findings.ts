/** What the lint finds in a chart, held against the club's own catalogue. */
import { lintDesign, lintMachine } from '@/lib/core/chart';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import type { Finding } from '@/lib/core/chart/types';
import { terminalsOf } from '@/lib/core/parts';
import { getCatalogue } from '@/lib/store/parts';

/** Of the board design, and of the machine if one is given. */
export async function findingsIn(design: BoardDesign, machine?: Machine): Promise<Finding[]> {
  const { catalogue } = await getCatalogue();
  return [...lintDesign(design, terminalsOf(catalogue)), ...(machine ? lintMachine(machine, design) : [])];
}
