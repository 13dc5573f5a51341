/** The order of work. Ids are stable, since ticks hang on them. Minutes are estimates from counts (common practice, no source). */
import type { HeaderChoice } from './needs';
import type { ConnectorPlan, WorkStep } from './types';

export type Work = Pick<ConnectorPlan, 'header' | 'housingName' | 'rows' | 'terminals' | 'housing' | 'keys'> & {
  newHeader: HeaderChoice | null;
  headerSide: 'sound' | 'reflow' | 'replace';
  saveKey: boolean;
};

// Minutes.
const perWire = 2.5; // cut, strip, crimp, tug, seat
const perJoint = 0.5;
const perContinuity = 0.5;
const perSampleKind = 5;

/** In order; a step is there only when this plan calls for it. */
export function stepsFor({ header, housingName, rows, terminals, housing, keys, newHeader, headerSide, saveKey }: Work): WorkStep[] {
  const wired = rows.filter((r) => r.wires.length > 0).length;
  const step = (id: string, minutes: number, title: string, detail: string): WorkStep => ({
    id,
    title,
    detail,
    minutes: Math.max(1, Math.round(minutes)),
  });
  const list: (WorkStep | false)[] = [
    step('power-off', 1, 'Power off, mains plug out', 'The plug itself, where you can see it.'),
    step('charge', 3, 'Stored charge measured', 'Across every reservoir, with a meter. Note the reading; counting seconds proves nothing.'),
    step('batteries', 2, 'Batteries out', 'Look for leakage round the header while you are there.'),
    step('photo', 1, 'Photo of the old housing in place', 'With the wires to be read on it.'),
    step('mark', 1, 'Position 1 marked on both halves', `On ${header.id} and on the old housing.`),
    headerSide === 'reflow' &&
      step(
        'reflow',
        header.positions * perJoint + 3,
        `Joints on ${header.id} reflowed`,
        'Every pin, with fresh solder; a ring round a pin is a crack.',
      ),
    newHeader !== null &&
      step(
        'header',
        header.positions * perJoint + 15,
        `Header ${header.id} replaced`,
        `${newHeader.cut ? `Cut from ${newHeader.from} positions to ${header.positions}. ` : ''}Same pitch, same plating${keys.positions.length > 0 ? '; pull the pin at the key before it is fitted' : ''}.`,
      ),
    housing.how === 'cut' &&
      step(
        'cut',
        4,
        `New housing cut to ${housing.positions}`,
        `From ${housing.part} with ${housing.from} positions; ${housing.cut === 'sawn' ? `the blade takes position ${housing.positions + 1}` : 'it breaks on the score'}. The lock and the end wall go with the cut end.`,
      ),
    keys.positions.length > 0 &&
      step(
        'key',
        1,
        `Keying plug in position ${keys.positions.join(' and ')}`,
        `${saveKey ? 'The old one, moved across. ' : ''}Before any wire, so that none can go there. An improvised plug works loose.`,
      ),
    terminals.length > 0 &&
      step(
        'sample',
        terminals.length * perSampleKind,
        'Sample crimps pulled apart',
        'Two or three of the same wire, terminal and tool; the test destroys them. The terminal maker’s own figure goes before the table’s. On the harness there is only a tug by hand.',
      ),
    wired > 0 &&
      step(
        'wires',
        wired * perWire,
        'Wires moved, one at a time',
        'From old position n to new position n: cut back to bright strands, strip, crimp, tug by hand and seat, before the next one is cut. Never tin before crimping.',
      ),
    wired > 0 &&
      step(
        'continuity',
        wired * perContinuity,
        'Each pin to its first lug measured',
        'With the housing off the header, wire by wire, moving the wire.',
      ),
    wired > 0 &&
      step(
        'groups',
        4,
        'Measured groups match the net list',
        'What should be apart is apart, what is one line is together. Commons, parallel pins and coils connect by right.',
      ),
    step('reseat', 2, `${housingName} seated, batteries in, power on`, 'Not shifted by one: position 1 to the mark.'),
    step('proof', 10, 'Fault proved gone', 'Cold, warm, with coils firing, by ball.'),
  ];
  return list.filter((s): s is WorkStep => s !== false);
}
