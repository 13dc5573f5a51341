'use client';
/** Paste what you have: what was understood beside what was not, questions only about that, and taking it over. */
import { type ClipboardEvent, type DragEvent, useCallback, useEffect, useId, useRef, useState } from 'react';
import { type Answers, type Applied, type Conflicts, type EntryChart, tableKinds } from '@/lib/core/chart/entry';
import { Button } from '../controls';
import { LeftOver, Outcome, takenWords, takes } from './paste-outcome';
import { PasteTable } from './paste-table';
import { count, kindWords } from './paste-words';
import { type PasteRead, usePaste } from './use-paste';

export interface PastePanelProps {
  kind: 'machine' | 'design';
  chart: EntryChart;
  /** Machines that stand on this board design, besides this one. */
  sharers: readonly string[];
  /** The grid was changed a moment ago; what is shown is not of it yet. */
  stale: boolean;
  /** `withDesign`: the board design is changed with it. */
  onTake(applied: Applied, withDesign: boolean): void;
  /** A whole chart as one JSON file; what is to be said of it. */
  onWhole(json: string): readonly string[];
}
const shortest = 3; // lines of the box
const longest = 20_000; // characters; a browser needs a moment to set a longer text in a box

export function PastePanel({ kind, chart, sharers, stale, onTake, onWhole }: PastePanelProps) {
  const id = useId();
  const [text, setText] = useState('');
  /** A file, or a block that is too long to stand in the box. */
  const [file, setFile] = useState<{ name: string; content: string | Uint8Array } | null>(null);
  const [answers, setAnswers] = useState<Answers>({});
  const [conflicts, setConflicts] = useState<Conflicts>('keep');
  const [withDesign, setWithDesign] = useState(true);
  const [over, setOver] = useState(false);
  /** What was said of a chart given as one file. */
  const [whole, setWhole] = useState<readonly string[] | null>(null);
  /** What was taken over last: what was left, and the text to bring back. */
  const [last, setLast] = useState<{ words: string; left: readonly string[]; text: string } | null>(null);
  const { shown, busy } = usePaste(file?.content ?? (text.trim() === '' ? null : text), chart, answers, conflicts);
  const area = useRef<HTMLTextAreaElement>(null);

  const begin = useCallback((next: string) => {
    const long = next.length > longest;
    setFile(
      long ? { name: `${count(next.split('\n').length, 'line', 'lines')}, from “${next.slice(0, 60).trim()}” on`, content: next } : null,
    );
    setText(long ? '' : next);
    setAnswers({});
  }, []);
  const beginFile = async (given: File | undefined) => {
    if (!given) return;
    const bytes = new Uint8Array(await given.arrayBuffer());
    setWhole(null);
    if (/\.json$/i.test(given.name)) return setWhole(onWhole(new TextDecoder().decode(bytes)));
    setText('');
    setAnswers({});
    setFile({ name: given.name, content: bytes });
  };

  // A paste that goes nowhere else is meant for here.
  useEffect(() => {
    const paste = (event: globalThis.ClipboardEvent) => {
      const elsewhere = document.activeElement && document.activeElement !== document.body && document.activeElement.id !== 'page';
      const given = event.clipboardData?.getData('text/plain');
      if (elsewhere || !given || event.defaultPrevented) return;
      event.preventDefault();
      begin(given);
      area.current?.scrollIntoView({ block: 'nearest' });
    };
    document.addEventListener('paste', paste);
    return () => document.removeEventListener('paste', paste);
  }, [begin]);

  const pasted = (event: ClipboardEvent<HTMLTextAreaElement>) => {
    const given = [...event.clipboardData.files][0];
    if (given) {
      event.preventDefault();
      void beginFile(given);
      return;
    }
    const long = event.clipboardData.getData('text/plain');
    if (long.length <= longest) return;
    event.preventDefault();
    begin(long);
  };
  const dropped = (event: DragEvent) => {
    event.preventDefault();
    setOver(false);
    const given = event.dataTransfer.files[0];
    if (given) void beginFile(given);
    else begin(event.dataTransfer.getData('text/plain'));
  };
  const take = ({ applied, read, table }: PasteRead) => {
    const words = `Taken over: ${takenWords(kind, applied, withDesign)}.`;
    setLast({
      words,
      left: read.not.map((n) => `Row ${n.row}: “${n.text}”: ${n.why}`),
      text: file ? table.rows.map((row) => row.join('\t')).join('\n') : text,
    });
    onTake(applied, withDesign);
    begin('');
  };

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the box inside takes the same by keyboard
    <div
      className={over ? 'paste over' : 'paste'}
      onDragOver={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={dropped}
    >
      <p className="form-field">
        <label htmlFor={`${id}-text`}>
          {kind === 'machine'
            ? 'A matrix, a switch list, a lamp list, a coil list, a connector list: as it comes out of a spreadsheet or a CSV file'
            : 'Lists of lines, of headers, of connector pins: as they come out of a spreadsheet or a CSV file'}
        </label>
        <textarea
          ref={area}
          id={`${id}-text`}
          rows={shown ? shortest : 4}
          value={file ? file.name : text}
          readOnly={file !== null}
          spellCheck={false}
          placeholder="Paste here, or drop a file"
          onChange={(event) => begin(event.target.value)}
          onPaste={pasted}
        />
      </p>
      <p className="actions">
        <label className="btn">
          Choose a file
          <input
            type="file"
            className="sr"
            accept=".csv,.tsv,.txt,.json,text/csv,text/plain,application/json"
            onChange={(event) => void beginFile(event.target.files?.[0])}
          />
        </label>
        {(text !== '' || file) && <Button onClick={() => begin('')}>Put it away</Button>}
        <span role="status" className="soft note">
          {busy ? 'Reading' : ''}
        </span>
      </p>
      {whole && (
        <ul className="problems" role="status">
          {whole.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
      {last && !shown && (
        <div className="taken" role="status">
          <p>
            <b>{last.words}</b> Undo takes it back.{' '}
            <Button text onClick={() => begin(last.text)}>
              Bring the text back
            </Button>
          </p>
          <LeftOver left={last.left} />
        </div>
      )}
      {shown && (
        <div className="understood">
          <p className="lead">
            {shown.read.kind === 'unknown' ? 'It was not recognised.' : `This is ${kindWords[shown.read.kind]}.`}{' '}
            <span className="soft">{shown.read.why}</span>
          </p>
          <p className="form-field kind">
            <label htmlFor={`${id}-kind`}>Taken for</label>
            <select id={`${id}-kind`} value={shown.read.kind} onChange={(event) => setAnswers((a) => ({ ...a, kind: event.target.value }))}>
              {tableKinds.map((k) => (
                <option key={k} value={k} disabled={k === 'unknown'}>
                  {kindWords[k]}
                </option>
              ))}
            </select>
          </p>
          <PasteTable
            table={shown.table}
            read={shown.read}
            onColumn={(column, meaning) => setAnswers((a) => ({ ...a, [`column.${column}`]: meaning }))}
          />
          {shown.read.asks.map((ask) => (
            <fieldset key={ask.id} className="ask-one">
              <legend>{ask.text}</legend>
              <p className="soft note">{ask.why}</p>
              <div className="choices">
                {ask.choices.map(({ value, label }) => (
                  <label key={value}>
                    <input
                      type="radio"
                      name={`${id}-${ask.id}`}
                      checked={(answers[ask.id] ?? ask.guess) === value}
                      onChange={() => setAnswers((a) => ({ ...a, [ask.id]: value }))}
                    />
                    {label}
                  </label>
                ))}
              </div>
            </fieldset>
          ))}
          <Outcome
            id={id}
            kind={kind}
            shown={shown}
            chart={chart}
            sharers={sharers}
            waits={shown.read.asks.some((ask) => ask.guess === undefined && answers[ask.id] === undefined)}
            conflicts={conflicts}
            onConflicts={setConflicts}
            withDesign={withDesign}
            onWithDesign={setWithDesign}
          />
          <p className="actions">
            <Button fill disabled={busy || stale || takes(kind, shown.applied, withDesign) === 0} onClick={() => take(shown)}>
              Take it over
            </Button>
          </p>
        </div>
      )}
    </div>
  );
}
