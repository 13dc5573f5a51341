/** One answer of a lookup: a circuit with its lines and siblings, or a line, pin, header, lamp or load. Also drawn on a machine's page. */
import { foundColours } from '@/lib/core/chart/found';
import { halfTitle, splitHalf } from '@/lib/core/chart/inline';
import type { Deviation } from '@/lib/core/chart/schema';
import type { Chart, Circuit } from '@/lib/core/chart/types';
import type { CircuitView, LineView, LookupResult } from '@/lib/core/lookup/types';
import { Button } from '@/lib/ui/controls';
import { Faces, WireChip, wiresInWords } from '@/lib/ui/drawings';
import { FoundNote } from '@/lib/ui/found-note';
import { ShownOnPhoto } from '@/lib/ui/shown-on-photo';
import { listed } from '@/lib/ui/words';

type One = Extract<LookupResult, { outcome: 'one' }>;

interface AnswerProps {
  idPrefix: string;
  result: One;
  chart: Chart | null;
  removed?: readonly string[]; // pictures that were removed for good
  again?: () => void;
}

/** `idPrefix` keeps ids unique on the page; `again` undoes a choice among several. */
export function Answer({ idPrefix, result, chart, removed, again }: AnswerProps) {
  const { candidate, circuit, line, face, far, circuits } = result;
  const lines = circuit?.lines ?? (line ? [line] : []);
  const faces = face
    ? [face, ...(far ? [far] : [])].map((f) => ({ key: f.header.id, title: faceTitle(f.housing), face: f }))
    : lines.flatMap((l) => l.faces.map((f) => ({ key: `${l.net}-${f.header.id}`, title: `${l.title} at ${f.housing}`, face: f })));
  return (
    <div>
      <p className="sr" role="status">
        {candidate.title}: {candidate.reasons.join('; ')}
      </p>
      {circuit ? (
        <CircuitHead circuit={circuit.circuit} reasons={candidate.reasons} />
      ) : (
        <PlainHead title={candidate.title} reasons={candidate.reasons} />
      )}
      {candidate.guess && (
        <p className="note">
          <b>A guess:</b> the chart has no such wire; this is what it would be if its colour has changed. Prove it before you cut or press
          on.
        </p>
      )}
      {lines.length > 0 && (
        <div className="lines">
          {lines.map((l) => (
            <Line key={l.net} line={l} />
          ))}
        </div>
      )}
      {chart && <ShownOnPhoto chart={chart} candidate={candidate} removed={removed} />}
      {again && (
        <p className="actions">
          <Button text onClick={again}>
            Not this one: show all that fit
          </Button>
        </p>
      )}
      <AsFound found={circuit ? circuit.asFound : (line?.asFound ?? [])} named={!circuit} removed={removed} />
      {circuit && <Press circuit={circuit} />}
      {!circuit && circuits.length > 0 && <Circuits circuits={circuits} />}
      {faces.length > 0 && (
        <div className={faces.length > 1 ? 'pair' : undefined}>
          {faces.map((f) => (
            <section key={f.key}>
              <h3>{f.title}</h3>
              <Faces face={f.face} idPrefix={`${idPrefix}-${f.key.replaceAll('.', '-')}`} />
            </section>
          ))}
        </div>
      )}
      {circuit && circuit.siblings.length > 0 && <Siblings circuit={circuit} />}
    </div>
  );
}

/** `A3P4`, or "X1, far half". */
function faceTitle(housing: string): string {
  const half = splitHalf(housing);
  return half ? halfTitle(half.connector, half.half) : housing;
}

const sentence = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);

function CircuitHead({ circuit, reasons }: { circuit: Circuit; reasons: string[] }) {
  const facts = [
    `normally ${circuit.normally}`,
    circuit.device === 'other' ? '' : circuit.device,
    circuit.location,
    circuit.diode && `diode ${circuit.diode}`,
  ];
  return (
    <div className="answer">
      <span className="bignum">{circuit.number}</span>
      <div>
        <p className="name">{circuit.name}</p>
        <p className="soft note">
          {sentence(listed(facts.filter(Boolean)).replace(' and ', ', '))}. {reasons.length > 0 && `Fits: ${reasons.join('; ')}.`}
        </p>
      </div>
    </div>
  );
}

function PlainHead({ title, reasons }: { title: string; reasons: string[] }) {
  return (
    <div className="answer">
      <div>
        <p className="name">{title}</p>
        {reasons.length > 0 && <p className="soft note">{sentence(reasons.join('; '))}.</p>}
      </div>
    </div>
  );
}

/** A line with every header position that carries it. */
function Line({ line }: { line: LineView }) {
  return (
    <div data-wire={line.colour}>
      <b>{line.title}</b>
      <span>
        <WireChip colour={line.colour} />
        {foundColours(line.asFound).map((colour) => (
          <span key={colour} className="found-wires">
            found here <WireChip colour={colour} />
          </span>
        ))}
      </span>
      <ul>
        {line.taps.map((tap) => {
          const other = tap.wires.some((w) => w.colour !== line.colour) || tap.wires.length > 1;
          return (
            <li key={tap.pin}>
              <b className="mono">{tap.pin}</b>
              {other && ` ${wiresInWords(tap.wires)}`}
              {tap.goesTo && <span className="goes"> to {tap.goesTo}</span>}
            </li>
          );
        })}
        {line.through.map(({ pin, wires, goesTo, place }) => (
          <li key={pin}>
            <b className="mono">{pin}</b> in line{place && `, ${place}`}
            {wires.far.some((w, k) => w.colour !== wires.board[k]?.colour) && `: beyond it ${wiresInWords(wires.far)}`}
            {goesTo && <span className="goes"> to {goesTo}</span>}
          </li>
        ))}
        {line.taps.length === 0 && <li className="soft">No pin in this chart</li>}
        {line.does && line.part && (
          <li>
            {line.does} <span className="mono">{line.part}</span>
          </li>
        )}
      </ul>
    </div>
  );
}

/** Where the answer is no circuit, the switch of a difference is named. */
function AsFound({ found, named, removed }: { found: readonly Deviation[]; named: boolean; removed?: readonly string[] }) {
  return found.map((d) => (
    <FoundNote key={d.id} found={d} removed={removed} where={named && d.place.switch !== undefined ? `At ${d.place.switch}` : undefined} />
  ));
}

function Press({ circuit }: { circuit: CircuitView }) {
  if (circuit.press.length === 0) return null;
  return (
    <>
      <h3>Press these to halve it</h3>
      <ul className="press">
        {circuit.press.map((s) => (
          <li key={`${s.shares} ${s.number}`}>
            <b>{s.number}</b>
            <span>
              {s.name}
              <span className="soft note"> same {s.shares}</span>
            </span>
          </li>
        ))}
      </ul>
    </>
  );
}

function Siblings({ circuit }: { circuit: CircuitView }) {
  return (
    <details className="as-table">
      <summary>All {circuit.siblings.length} that share something with it, and what each one clears</summary>
      <ul className="ruled">
        {circuit.siblings.map((s) => (
          <li key={`${s.shares} ${s.number}`}>
            <span className="id">{s.number}</span>
            <span>
              {s.name}
              <span className="soft note"> {s.clears}</span>
            </span>
            <span className="soft">same {s.shares}</span>
          </li>
        ))}
      </ul>
    </details>
  );
}

function Circuits({ circuits }: { circuits: Circuit[] }) {
  return (
    <>
      <h3>Switches on it</h3>
      <ul className="press">
        {circuits.map((c) => (
          <li key={c.number}>
            <b>{c.number}</b>
            {c.name}
          </li>
        ))}
      </ul>
    </>
  );
}
