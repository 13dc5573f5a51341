/** Asks for wire flags: of which connector, how large, on which paper. */
import { headersAndHalves } from '@/lib/core/chart/half-chart';
import type { Chart } from '@/lib/core/chart/types';
import { flagLimits, usualFlag } from '@/lib/print/flag-size';
import { Button, Field } from './controls';

export function FlagForm({ chart }: { chart: Chart }) {
  const measures = [
    { name: 'width', label: 'Width, mm', limits: flagLimits.widthMm, usual: usualFlag.widthMm },
    { name: 'height', label: 'Height, mm', limits: flagLimits.heightMm, usual: usualFlag.heightMm },
  ];
  return (
    <details className="header-fold no-print">
      <summary>
        Wire flags to cut out <span className="soft">PDF</span>
      </summary>
      <form action={`/machines/${chart.machine.id}/flags.pdf`}>
        <div className="fields">
          <Field id="flag-header" label="Connector">
            {(control) => (
              <select {...control} name="header">
                <option value="">All of them</option>
                {headersAndHalves(chart).map((h) => (
                  <option key={h.id} value={h.id}>
                    {[h.id, h.name].filter(Boolean).join(', ')}
                  </option>
                ))}
              </select>
            )}
          </Field>
          {measures.map(({ name, label, limits: [least, most], usual }) => (
            <Field key={name} id={`flag-${name}`} label={label} hint={`One half, folded: ${least} to ${most}`}>
              {(control) => (
                <input {...control} name={name} type="number" inputMode="numeric" min={least} max={most} defaultValue={usual} />
              )}
            </Field>
          ))}
          <Field id="flag-paper" label="Paper">
            {(control) => (
              <select {...control} name="paper">
                <option value="a4">A4</option>
                <option value="letter">Letter</option>
              </select>
            )}
          </Field>
        </div>
        <p className="actions">
          <Button type="submit">Make the flags</Button>
        </p>
      </form>
    </details>
  );
}
