'use client';
/** Entering a chart: paste what there is, or write in the grid; both change the same tables. */
import { useCallback, useEffect, useMemo, useState } from 'react';
import { type Applied, blankChart } from '@/lib/core/chart/entry';
import type { TerminalPart } from '@/lib/core/parts/schema';
import { Button, LinkButton } from '../controls';
import { SaveSign, Widget } from '../shell';
import { shownText } from './beside';
import { ConflictPanel } from './conflict-panel';
import { FindingsPanel } from './findings-panel';
import { copyOf, rowsOf } from './grid';
import { GridView } from './grid-view';
import { PagesTouched } from './pages-touched';
import { PastePanel } from './paste-panel';
import { count } from './paste-words';
import { cellsOf } from './ranges';
import { carried, sheetOfCharts } from './rebase';
import type { Kept } from './saving';
import { aroundOf, designSheet, isFilled } from './sheet';
import { tableOf, tablesOf } from './tables';
import type { CellFinding } from './types';
import { useChecked } from './use-checked';
import { useEntry } from './use-entry';
import { usePreview } from './use-preview';
import { wholeFile } from './whole-file';

export interface EntryScreenProps {
  kept: Kept;
  member: string;
  /** Names of lines that a new design is going to have. */
  lines: readonly string[];
  terminals: readonly TerminalPart[];
  sharers: readonly string[];
  /** Where one goes when all is entered. */
  back: string;
}
const signs = {
  saved: 'saved',
  kept: 'connecting',
  saving: 'saving',
  offline: 'offline',
  refused: 'refused',
  conflict: 'refused',
} as const;

export function EntryScreen({ kept: first, member, lines, terminals, sharers, back }: EntryScreenProps) {
  const kind = first.machine ? 'machine' : 'design';
  const sheet = useMemo(() => (first.machine ? sheetOfCharts(first) : designSheet(first.design, lines)), [first, lines]);
  const start = useMemo(
    () => ({ kept: first, sheet, table: kind === 'machine' ? 'switches' : 'nets', member }),
    [first, sheet, kind, member],
  );
  const { grid, act, kept, said, conflict, news, save, settle } = useEntry(start);
  const checked = useChecked(grid.sheet, terminals);
  const touched = usePreview(checked.read, kept);
  const [call, setCall] = useState(0);
  const table = tableOf(kind, grid.table);
  const around = useMemo(() => {
    const { machine, design } = checked.read;
    return aroundOf({ machine, design });
  }, [checked.read]);
  const chart = useMemo(() => {
    const { machine, design } = checked.read;
    return machine ? { machine, design } : blankChart(design);
  }, [checked.read]);

  const take = useCallback(
    ({ chart: next }: Applied, withDesign: boolean) => {
      const design = kind === 'design' || withDesign ? next.design : chart.design;
      const fresh = sheetOfCharts({ machine: kind === 'machine' ? next.machine : null, design });
      act({ do: 'sheet', sheet: carried(grid.sheet, checked.read.problems, fresh) });
    },
    [act, kind, chart, grid.sheet, checked.read.problems],
  );
  const takeWhole = (json: string) => {
    const { charts, said: words } = wholeFile(json, { machine: checked.read.machine, design: checked.read.design });
    if (charts) act({ do: 'sheet', sheet: sheetOfCharts(charts) });
    return words;
  };
  const goTo = (finding: CellFinding) => {
    const rows = grid.sheet.tables[finding.table] ?? [];
    const row = finding.row === null ? 0 : rows.findIndex((r) => r.id === finding.row);
    act({ do: 'goto', table: finding.table, at: { row: Math.max(0, row), column: finding.column } });
    setCall((n) => n + 1);
  };

  const whereOf = (finding: CellFinding) => {
    const spec = tableOf(kind, finding.table);
    const rows = grid.sheet.tables[finding.table] ?? [];
    const index = rows.findIndex((r) => r.id === finding.row);
    const row = rows[index];
    return row ? `${spec.title}, ${shownText(spec, row, 0, around) || `row ${index + 1}`}` : spec.title;
  };

  useEffect(() => {
    const pressed = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
      if (event.key.toLowerCase() === 's') {
        event.preventDefault();
        void save();
      }
    };
    addEventListener('keydown', pressed);
    return () => removeEventListener('keydown', pressed);
  }, [save]);

  const copy = () => void navigator.clipboard.writeText(copyOf(grid, (row, column) => shownText(table, row, column, around)));
  const paste = async () => {
    const text = await navigator.clipboard.readText().catch(() => null);
    if (text) act({ do: 'paste', rows: cellsOf(text) });
  };
  const errors = checked.findings.filter((f) => f.level === 'error').length;

  return (
    <div className="enter">
      <div className="enter-save">
        <Button fill onClick={() => void save()} disabled={said.state === 'saving'} title="Ctrl S">
          Save
        </Button>
        <LinkButton href={back}>Done</LinkButton>
        <SaveSign state={signs[said.state]}>{said.words}</SaveSign>
        {touched && <PagesTouched pages={touched} />}
      </div>
      {said.state === 'refused' && said.mends.length > 0 && (
        <ul className="problems" role="alert">
          {said.mends.map((mend) => (
            <li key={mend}>{mend}</li>
          ))}
        </ul>
      )}
      {conflict && <ConflictPanel key={conflict.version} conflict={conflict} onSettle={settle} />}
      {news.length > 0 && (
        <div className="notice" role="status">
          <h3>Saved by others meanwhile, and now here too</h3>
          <ul className="problems">
            {news.slice(0, 12).map((label) => (
              <li key={label}>{label}</li>
            ))}
          </ul>
          {news.length > 12 && <p className="soft note">and {count(news.length - 12, 'more', 'more')}</p>}
        </div>
      )}
      {kind === 'machine' && chart.design.nets.length === 0 && (
        <p className="notice-line">
          The board design {chart.design.id} has no lines yet, so no circuit finds its place.{' '}
          <a href={`/designs/${chart.design.id}/enter`}>Enter its lines first</a>.
        </p>
      )}
      <Widget title="Paste what you have" id="paste">
        <PastePanel kind={kind} chart={chart} sharers={sharers} stale={checked.sheet !== grid.sheet} onTake={take} onWhole={takeWhole} />
      </Widget>
      <Widget
        title="Or write it in"
        id="tables"
        tools={
          <>
            <Button onClick={() => act({ do: 'undo' })} disabled={grid.past.length === 0} title="Ctrl Z">
              Undo
            </Button>
            <Button onClick={() => act({ do: 'redo' })} disabled={grid.future.length === 0} title="Ctrl Shift Z">
              Redo
            </Button>
          </>
        }
      >
        <div className="tabs" role="tablist" aria-label="Tables">
          {tablesOf(kind).map((t) => {
            const filled = (grid.sheet.tables[t.key] ?? []).filter((row) => isFilled(t, row)).length;
            const wrong = checked.findings.filter((f) => f.table === t.key && f.level === 'error').length;
            return (
              <button
                key={t.key}
                type="button"
                role="tab"
                id={`tab-${t.key}`}
                aria-selected={t.key === grid.table}
                aria-controls="tables"
                tabIndex={t.key === grid.table ? 0 : -1}
                onClick={() => act({ do: 'table', table: t.key })}
                onKeyDown={(event) => {
                  const step = event.key === 'ArrowRight' ? 1 : event.key === 'ArrowLeft' ? -1 : 0;
                  const all = tablesOf(kind);
                  const next = all[(all.findIndex((x) => x.key === t.key) + step + all.length) % all.length];
                  if (step === 0 || !next) return;
                  event.preventDefault();
                  act({ do: 'table', table: next.key });
                  document.getElementById(`tab-${next.key}`)?.focus();
                }}
              >
                {t.title} {t.key !== 'about' && <span className="soft tab-count">{filled}</span>}
                {wrong > 0 && <span className="tab-wrong">{count(wrong, 'error', 'errors')}</span>}
              </button>
            );
          })}
        </div>
        <p className="note soft">{table.about}</p>
        <div className="grid-tools">
          <Button onClick={() => act({ do: 'edit' })} title="F2">
            Write in the cell
          </Button>
          <Button onClick={() => act({ do: 'fill' })} title="Ctrl D">
            Fill down
          </Button>
          <Button onClick={copy} title="Ctrl C">
            Copy
          </Button>
          <Button onClick={() => void paste()} title="Ctrl V">
            Paste
          </Button>
          <Button onClick={() => act({ do: 'clear' })} title="Delete">
            Clear
          </Button>
        </div>
        <GridView grid={grid} act={act} around={around} byRow={checked.byRow} call={call} />
        <details className="keys-help">
          <summary>Keys</summary>
          <p className="note">
            Type to replace, F2 to change what is there, Escape to take it back. Enter goes down, Tab to the right; after a run of Tab,
            Enter goes below where it began. Shift and arrows choose a block; Ctrl D fills it down, Ctrl C and Ctrl V copy and paste it,
            Delete clears it. Ctrl Z undoes, Ctrl S saves. Escape, then Tab leaves the table.
          </p>
        </details>
        <p className="sr" role="status">
          {rowsOf(grid).length} rows
        </p>
      </Widget>
      <Widget title={errors > 0 ? `What the check finds: ${count(errors, 'error', 'errors')}` : 'What the check finds'} id="check">
        <FindingsPanel findings={checked.findings} whereOf={whereOf} onGo={goTo} />
      </Widget>
    </div>
  );
}
