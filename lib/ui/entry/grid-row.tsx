'use client';
/** One row of the grid. It is drawn again only when something of it changed. */
import { memo } from 'react';
import { Sample, WireChip } from '../drawings';
import type { Beside } from './beside';
import type { CellFinding, ColumnSpec, SheetRow } from './types';

export interface RowShown {
  id: string; // of the grid
  row: SheetRow;
  index: number;
  columns: readonly ColumnSpec[];
  /** Column where one stands, in this row. */
  at: number | null;
  /** First and last column that is chosen in this row; -1: none. */
  left: number;
  right: number;
  editing: string | null;
  findings: readonly CellFinding[] | undefined;
  /** What blank cells show, and what stands beside a cell. */
  shown: readonly Beside[];
  fixed: number; // columns from the left that cannot be written
  onWrite(text: string): void;
  onLeave(): void;
}

const worst = (findings: readonly CellFinding[]) =>
  findings.some((f) => f.level === 'error') ? 'error' : findings.some((f) => f.level === 'warning') ? 'warning' : 'information';

export const GridRow = memo(function GridRow(p: RowShown) {
  return (
    <tr aria-rowindex={p.index + 2}>
      {p.columns.map((column, c) => {
        const own = p.findings?.filter((f) => f.column === c) ?? [];
        const level = own.length > 0 ? worst(own) : null;
        const active = p.at === c;
        const chosen = c >= p.left && c <= p.right;
        const text = p.row.cells[c] ?? '';
        const beside = p.shown[c];
        return (
          <td
            key={column.path}
            // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: a cell of the grid
            role="gridcell"
            id={`${p.id}-${p.index}-${c}`}
            data-row={p.index}
            data-column={c}
            tabIndex={active ? 0 : -1}
            aria-colindex={c + 1}
            aria-selected={chosen}
            aria-readonly={c < p.fixed || undefined}
            aria-invalid={level === 'error' || undefined}
            aria-describedby={active && own.length > 0 ? `${p.id}-said` : undefined}
            className={
              [column.width, column.mono && 'mono', level && `has-${level}`, chosen && 'chosen', active && 'at', c < p.fixed && 'fixed']
                .filter(Boolean)
                .join(' ') || undefined
            }
          >
            {active && p.editing !== null ? (
              <CellInput {...p} column={column} text={p.editing} />
            ) : (
              <>
                {text === '' && beside?.ghost ? <span className="ghost">{beside.ghost}</span> : text}
                {beside?.sample && (
                  <span className="chip">
                    <Sample colour={beside.sample} />
                  </span>
                )}
                {beside?.wire && <WireChip colour={beside.wire} />}
              </>
            )}
          </td>
        );
      })}
    </tr>
  );
});

function CellInput({ id, column, text, onWrite, onLeave }: RowShown & { column: ColumnSpec; text: string }) {
  return (
    <input
      className="cell-input"
      aria-label={column.head}
      value={text}
      // biome-ignore lint/a11y/noAutofocus: the cell is where the person is writing already
      autoFocus
      autoComplete="off"
      autoCapitalize="off"
      spellCheck={false}
      list={column.type.choices || column.type.offer ? `${id}-choices` : undefined}
      onChange={(event) => onWrite(event.target.value)}
      onFocus={(event) => {
        const end = event.target.value.length;
        event.target.setSelectionRange(end, end);
      }}
      onBlur={onLeave}
    />
  );
}
