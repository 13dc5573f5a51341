import type { Metadata } from 'next';
import { newDesignAction } from '@/app/actions/begin-chart';
import { listDesigns } from '@/lib/store/machines';
import { ActionForm } from '@/lib/ui/forms';
import { Entry } from '@/lib/ui/shell';
import { requireRight } from '../../../member';
import { Frame } from '../../frame';

export const metadata: Metadata = { title: 'New board design' };

export default async function NewDesign() {
  const member = await requireRight('/designs/new', 'create', 'machine');
  const designs = await listDesigns();
  const number = (name: string, label: string, value: string, hint?: string) => ({ name, label, type: 'number' as const, value, hint });
  return (
    <Frame member={member} here="Machines" title="New board design">
      <Entry>
        <h1>New board design</h1>
        <p className="lead">
          A set of boards with their headers and lines, entered once and reused by every machine that has it. Say here how many lines of
          each kind there are: the next screen has a row ready for each.
        </p>
        <ActionForm
          action={newDesignAction}
          submit="Go on to its lines and headers"
          fields={[
            { name: 'id', label: 'Mark', hint: 'Short, in letters, digits and hyphens: SB-3.', required: true },
            { name: 'name', label: 'What it is', hint: 'Two-board set with the lamp board apart.', required: true },
            {
              name: 'copy',
              label: 'Copy',
              type: 'select',
              value: '',
              hint: 'A copy takes everything of the other design; what is asked below is then not used.',
              options: [
                { value: '', label: 'Nothing: begin empty' },
                ...designs.map((d) => ({ value: d.id, label: `${d.id}: ${d.name}` })),
              ],
            },
            {
              name: 'boards',
              label: 'Boards',
              type: 'area',
              hint: 'One a line, its designator first.',
              value: 'A1 Power board\nA2 Driver board\nA3 Switch board',
            },
            {
              name: 'polarity',
              label: 'Strobe of the switch matrix',
              type: 'select',
              value: 'strobe-low',
              options: [
                { value: 'strobe-low', label: 'Pulled low when it is this column’s turn' },
                { value: 'strobe-high', label: 'Raised high when it is this column’s turn' },
              ],
            },
            {
              name: 'idle',
              label: 'A column that is not strobed',
              type: 'select',
              value: 'float',
              options: [
                { value: 'float', label: 'Floats' },
                { value: 'pulled', label: 'Is pulled to its supply' },
                { value: 'driven', label: 'Is driven to the other level' },
              ],
            },
            { name: 'rowSupplyVolts', label: 'Row supply, volts', value: '12', required: true },
            {
              name: 'thresholdRatio',
              label: 'Threshold of the row input, as a share of that supply',
              value: '0.4',
              hint: '0.4 of 12 V is 4.8 V. When it is not known, 0.4 is a start; the chart’s check uses it.',
              required: true,
            },
            number('columns', 'Switch columns', '8'),
            number('rows', 'Switch rows', '8'),
            number('direct', 'Direct switch inputs', '8'),
            number('lampColumns', 'Lamp columns', '8'),
            number('lampRows', 'Lamp rows', '8'),
            number('loads', 'Driven loads', '16'),
          ]}
        />
      </Entry>
    </Frame>
  );
}
