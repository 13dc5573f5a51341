/** Fix record: what the next person will search for. A list when reading, fields when writing. */
import type { ReactNode } from 'react';
import { named } from '@/lib/notebook/circuits';
import { Widget } from '@/lib/ui/blocks';
import { WireChip } from '@/lib/ui/drawings';
import { day, duration } from '@/lib/ui/words';
import type { WidgetViewProps } from '../definition';
import { type Model, proofLines } from './definition';
import { RecordFields } from './fields';

export function View({ id, model, act }: WidgetViewProps<Model>) {
  return <Widget title="Fix record">{act ? <RecordFields id={id} model={model} act={act} /> : <Record model={model} />}</Widget>;
}

function Record({ model }: { model: Model }) {
  return (
    <dl className="record">
      <Row name="Symptom">{model.symptom}</Row>
      <Row name="Circuits">
        {model.circuits.length > 0 && (
          <ul>
            {model.circuits.map((c) => (
              <li key={c.number}>
                {named(c)}
                {!c.known && <span className="soft"> (not in this chart)</span>} {c.wires.length > 0 && <Wires colours={c.wires} />}
              </li>
            ))}
          </ul>
        )}
      </Row>
      <Row name="Cause">{model.causeName}</Row>
      <Row name="Place">
        {model.place && (
          <>
            <span className={model.placeHeader ? 'mono' : undefined}>{model.place}</span> <Wires colours={model.placeWires} />
          </>
        )}
      </Row>
      <Row name="Remedy">{model.remedy}</Row>
      <Row name="Proof">{proofLines(model).length > 0 && proofLines(model).map((line) => <p key={line}>{line}</p>)}</Row>
      <Row name="Parts">{model.parts.map((p) => `${p.quantity} × ${p.name}`).join(', ')}</Row>
      <Row name="Time">{model.minutes !== null && duration(model.minutes)}</Row>
      <Row name="Outcome">{model.outcomeName}</Row>
      <Row name="To watch">{model.watch}</Row>
      <Row name="Signed">{[model.by, day(model.on)].filter(Boolean).join(', ')}</Row>
    </dl>
  );
}

/** A row that has nothing to say is left out. */
function Row({ name, children }: { name: string; children: ReactNode }) {
  if (!children) return null;
  return (
    <>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </>
  );
}

export function Wires({ colours }: { colours: string[] }) {
  return [...new Set(colours)].map((colour) => (
    <span key={colour}>
      <WireChip colour={colour} />{' '}
    </span>
  ));
}
