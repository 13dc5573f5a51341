'use client';
/** The grid on the screen: only the rows in sight are drawn, focus follows where one stands, keys and clipboard act. */
import {
  type Dispatch,
  type KeyboardEvent,
  type PointerEvent,
  useCallback,
  useEffect,
  useId,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
} from 'react';
import { besideOf, shownText } from './beside';
import { type Act, copyOf, type Grid, rangeIn, rowsOf } from './grid';
import { GridRow } from './grid-row';
import { actOfKey } from './keys';
import { cellsOf } from './ranges';
import { isFixed, tableOf } from './tables';
import type { Around, CellFinding } from './types';

const spare = 12; // rows drawn above and below those in sight
const drawnAtFirst = 70; // rows, before the height is known

export interface GridViewProps {
  grid: Grid;
  act: Dispatch<Act>;
  around: Around;
  byRow: ReadonlyMap<number, readonly CellFinding[]>;
  /** Raised when focus is to go into the grid. */
  call: number;
}

export function GridView({ grid, act, around, byRow, call }: GridViewProps) {
  const id = useId();
  const table = tableOf(grid.sheet.kind, grid.table);
  const rows = rowsOf(grid);
  const box = useRef<HTMLDivElement>(null);
  const [sight, setSight] = useState({ top: 0, height: 0, row: 44 });
  const mine = useRef(false); // focus is in the grid
  const leaving = useRef(false); // Escape was pressed: Tab leaves
  const { at, editing } = grid;
  const range = rangeIn(grid);

  const measure = useCallback(() => {
    const element = box.current;
    if (!element) return;
    const row = element.querySelector<HTMLElement>('tbody tr:not(.gap)')?.offsetHeight || 44;
    setSight((s) =>
      s.top === element.scrollTop && s.height === element.clientHeight && s.row === row
        ? s
        : { top: element.scrollTop, height: element.clientHeight, row },
    );
  }, []);
  useLayoutEffect(() => {
    measure();
    addEventListener('resize', measure);
    return () => removeEventListener('resize', measure);
  }, [measure]);

  const first = Math.max(0, Math.floor(sight.top / sight.row) - spare);
  const last =
    sight.height === 0
      ? Math.min(rows.length, drawnAtFirst)
      : Math.min(rows.length, Math.ceil((sight.top + sight.height) / sight.row) + spare);

  // Another table begins at its top.
  // biome-ignore lint/correctness/useExhaustiveDependencies: only when the table changes
  useLayoutEffect(() => {
    box.current?.scrollTo({ top: 0, left: 0 });
    measure();
  }, [grid.table]);

  // Where one stands is in sight, and has the focus if the grid has it.
  useLayoutEffect(() => {
    const element = box.current;
    if (!element || (!mine.current && call === 0)) return;
    const head = element.querySelector<HTMLElement>('thead')?.offsetHeight ?? 0;
    const top = at.row * sight.row;
    if (top < element.scrollTop) element.scrollTop = top;
    else if (top + sight.row + head > element.scrollTop + element.clientHeight)
      element.scrollTop = top + sight.row + head - element.clientHeight;
    const cell = element.querySelector<HTMLElement>(`[data-row="${at.row}"][data-column="${at.column}"]`);
    if (!cell) return measure();
    const before = [...element.querySelectorAll<HTMLElement>(`[data-row="${at.row}"]`)].slice(0, at.column);
    const edge = before.reduce((width, each) => width + (getComputedStyle(each).position === 'sticky' ? each.offsetWidth : 0), 0);
    if (cell.offsetLeft - edge < element.scrollLeft) element.scrollLeft = cell.offsetLeft - edge;
    else if (cell.offsetLeft + cell.offsetWidth > element.scrollLeft + element.clientWidth)
      element.scrollLeft = cell.offsetLeft + cell.offsetWidth - element.clientWidth;
    if (mine.current && !editing && document.activeElement !== cell) cell.focus({ preventScroll: true });
  }, [at, editing, sight, measure, call]);

  useEffect(() => {
    if (call === 0) return;
    mine.current = true;
    box.current?.querySelector<HTMLElement>('td[tabindex="0"]')?.focus();
  }, [call]);

  const now = useRef({ grid, around });
  now.current = { grid, around };
  useEffect(() => {
    const inGrid = () => box.current?.contains(document.activeElement) && !now.current.grid.editing;
    const copy = (event: ClipboardEvent) => {
      if (!inGrid() || !event.clipboardData) return;
      const { grid: g, around: a } = now.current;
      const spec = tableOf(g.sheet.kind, g.table);
      event.clipboardData.setData(
        'text/plain',
        copyOf(g, (row, column) => shownText(spec, row, column, a)),
      );
      event.preventDefault();
      if (event.type === 'cut') act({ do: 'clear' });
    };
    const paste = (event: ClipboardEvent) => {
      const text = event.clipboardData?.getData('text/plain');
      if (!inGrid() || !text) return;
      event.preventDefault();
      act({ do: 'paste', rows: cellsOf(text) });
    };
    document.addEventListener('copy', copy);
    document.addEventListener('cut', copy);
    document.addEventListener('paste', paste);
    return () => {
      document.removeEventListener('copy', copy);
      document.removeEventListener('cut', copy);
      document.removeEventListener('paste', paste);
    };
  }, [act]);

  const pressed = (event: KeyboardEvent) => {
    if (event.nativeEvent.isComposing) return;
    if (event.key === 'Tab' && leaving.current && !editing) {
      mine.current = false;
      return;
    }
    leaving.current = event.key === 'Escape' && !editing;
    const done = actOfKey({ key: event.key, ctrl: event.ctrlKey || event.metaKey, shift: event.shiftKey, alt: event.altKey }, editing);
    if (!done) return;
    event.preventDefault();
    act(done);
  };
  const placeOf = (event: { target: EventTarget }) => {
    const cell = (event.target as HTMLElement).closest<HTMLElement>('td[data-row]');
    return cell && { row: Number(cell.dataset.row), column: Number(cell.dataset.column) };
  };
  const pointed = (event: PointerEvent) => {
    const to = placeOf(event);
    if (!to || (event.target as HTMLElement).tagName === 'INPUT') return;
    mine.current = true;
    if (event.pointerType !== 'mouse' || event.button !== 0) return;
    act({ do: 'goto', at: to, extend: event.shiftKey });
  };
  const dragged = (event: PointerEvent) => {
    const to = event.pointerType === 'mouse' && event.buttons === 1 && !editing ? placeOf(event) : null;
    if (to && (to.row !== at.row || to.column !== at.column)) act({ do: 'goto', at: to, extend: true });
  };
  // A finger: the first tap chooses, the second writes.
  const tapped = (event: React.MouseEvent) => {
    const to = placeOf(event);
    const finger = (event.nativeEvent as globalThis.PointerEvent).pointerType !== 'mouse';
    if (!to || !finger || (event.target as HTMLElement).tagName === 'INPUT') return;
    mine.current = true;
    const again = to.row === at.row && to.column === at.column;
    act(again ? { do: 'edit' } : { do: 'goto', at: to });
  };

  const onWrite = useCallback((text: string) => act({ do: 'write', text }), [act]);
  const onLeave = useCallback(() => act({ do: 'commit', and: 'stay' }), [act]);
  const fixed = table.columns.filter((_, c) => isFixed(table, c)).length;
  const column = table.columns[at.column];
  const choices = useMemo(() => column?.type.choices ?? column?.type.offer?.(around) ?? [], [column, around]);
  const said = (byRow.get(rows[at.row]?.id ?? -1) ?? []).filter((f) => f.column === at.column);

  return (
    <div className="grid-part">
      {/* biome-ignore lint/a11y/noStaticElementInteractions: keys and pointers are those of the grid inside */}
      <div
        className="grid-box"
        ref={box}
        onScroll={measure}
        onKeyDown={pressed}
        onPointerDown={pointed}
        onPointerOver={dragged}
        onClick={tapped}
        onDoubleClick={(event) => placeOf(event) && act({ do: 'edit' })}
        onFocus={(event) => {
          mine.current = true;
          const to = placeOf(event);
          if (to && (to.row !== at.row || to.column !== at.column)) act({ do: 'goto', at: to });
        }}
        onBlur={(event) => {
          if (event.relatedTarget && !event.currentTarget.contains(event.relatedTarget)) mine.current = false;
        }}
      >
        <table
          className="entry-grid"
          // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: a table is the grid of the ARIA pattern
          role="grid"
          aria-label={table.title}
          aria-rowcount={rows.length + 1}
          aria-colcount={table.columns.length}
          aria-multiselectable="true"
        >
          <thead>
            <tr aria-rowindex={1}>
              {table.columns.map((c, i) => (
                <th key={c.path} aria-colindex={i + 1} className={c.width}>
                  {c.head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            <Gap height={first * sight.row} columns={table.columns.length} />
            {rows.slice(first, last).map((row, i) => {
              const index = first + i;
              const active = at.row === index;
              const chosen = index >= range.top && index <= range.bottom;
              return (
                <GridRow
                  key={row.id}
                  id={id}
                  row={row}
                  index={index}
                  columns={table.columns}
                  at={active ? at.column : null}
                  left={chosen ? range.left : -1}
                  right={chosen ? range.right : -1}
                  editing={active && editing ? editing.text : null}
                  findings={byRow.get(row.id)}
                  shown={besideOf(table, row, around)}
                  fixed={fixed}
                  onWrite={onWrite}
                  onLeave={onLeave}
                />
              );
            })}
            <Gap height={(rows.length - last) * sight.row} columns={table.columns.length} />
          </tbody>
        </table>
        <datalist id={`${id}-choices`}>
          {choices.map((choice) => (
            <option key={choice} value={choice} />
          ))}
        </datalist>
      </div>
      <p className="cell-said note" id={`${id}-said`} role="status">
        {said.length > 0 ? (
          said.map((f) => (
            <span key={`${f.rule} ${f.message}`} className={`said-${f.level}`}>
              <b>{f.message}</b> {f.mend}
            </span>
          ))
        ) : (
          <span className="soft">
            {grid.notice ||
              (column && choices.length > 0
                ? `${column.head}: ${choices.slice(0, 8).join(', ')}${choices.length > 8 ? ' …' : ''}`
                : (column?.head ?? ''))}
          </span>
        )}
      </p>
    </div>
  );
}

/** The room of rows that are not drawn. */
function Gap({ height, columns }: { height: number; columns: number }) {
  const row = useRef<HTMLTableRowElement>(null);
  useLayoutEffect(() => {
    if (row.current) row.current.style.height = `${height}px`;
  }, [height]);
  if (height <= 0) return null;
  return (
    <tr ref={row} className="gap">
      <td colSpan={columns} />
    </tr>
  );
}
