/** A chart that was taken away as one JSON file, brought back into the chart that is entered. */
import { importJson } from '@/lib/core/chart/entry';
import type { Charts } from './rebase';

const mostSaid = 12;

/** The chart with what the file has, or what is wrong with it. The chart keeps its own id; a machine keeps the board design it stands on. */
export function wholeFile(json: string, { machine, design }: Charts): { charts: Charts | null; said: string[] } {
  const read = importJson(json);
  if (!read.ok) return { charts: null, said: read.findings.slice(0, mostSaid).map((f) => `${f.path}: ${f.message} ${f.mend}`) };
  const file = read.value;
  if (!machine)
    return {
      charts: { machine: null, design: { ...file.design, id: design.id } },
      said: ['Taken over: the board design of the file. Undo takes it back.'],
    };
  if (!file.machine)
    return { charts: null, said: ['The file holds a board design and no machine. Bring it in where that board design is entered.'] };
  if (file.machine.design !== design.id)
    return {
      charts: null,
      said: [
        `The machine of the file stands on ${file.machine.design}, this one on ${design.id}. Begin a new machine on ${file.machine.design} for it.`,
      ],
    };
  const same = JSON.stringify(file.design) === JSON.stringify(design);
  return {
    charts: { machine: { ...file.machine, id: machine.id }, design },
    said: [
      'Taken over: the machine of the file. Undo takes it back.',
      ...(same ? [] : [`The board design of the file differs from the ${design.id} of this notebook, which was left as it is.`]),
    ],
  };
}
