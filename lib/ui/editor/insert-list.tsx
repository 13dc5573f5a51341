'use client';
/** The list of things to insert: beside the caret after "/", or as a sheet from the add button. */
import type { Editor } from '@tiptap/core';
import { useEffect, useRef } from 'react';
import { type Insertable, insertables } from './insertables';
import { useStore } from './session';
import type { slashStore } from './slash';

function Items({
  items,
  chosen,
  choose,
  idPrefix,
}: {
  items: Insertable[];
  chosen: number;
  choose(item: Insertable): void;
  idPrefix: string;
}) {
  return items.map((item, index) => (
    <li key={item.id}>
      <button
        type="button"
        id={`${idPrefix}-${item.id}`}
        className={index === chosen ? 'insert-item chosen' : 'insert-item'}
        onMouseDown={(event) => event.preventDefault()}
        onClick={() => choose(item)}
      >
        <b>{item.title}</b>
        <span>{item.about}</span>
      </button>
    </li>
  ));
}

// In px; the bar is the phone's, at the bottom.
const [barHeight, listWidth, mostHeight, gap] = [68, 330, 420, 6];

export function SlashList({ slash }: { slash: ReturnType<typeof slashStore> }) {
  const state = useStore(slash.store);
  const list = useRef<HTMLUListElement>(null);
  useEffect(() => {
    if (!state || !list.current) return;
    const { style } = list.current;
    const { caret } = state;
    const below = window.innerHeight - barHeight - caret.bottom;
    const height = Math.min(list.current.scrollHeight + 4, Math.max(below, caret.top - gap), mostHeight);
    const above = height > below && caret.top > below;
    style.maxHeight = `${height}px`;
    const within = list.current.offsetParent?.getBoundingClientRect() ?? { top: -window.scrollY, left: -window.scrollX };
    style.top = `${(above ? caret.top - height - gap : caret.bottom + gap) - within.top}px`;
    style.left = `${Math.max(gap, Math.min(caret.left, window.innerWidth - listWidth - gap)) - within.left}px`;
    list.current.querySelector('.chosen')?.scrollIntoView({ block: 'nearest' });
  });
  if (!state) return null;
  return (
    <ul ref={list} className="insert-list at-caret" aria-label="Insert">
      <Items items={state.items} chosen={state.chosen} choose={state.choose} idPrefix="slash" />
    </ul>
  );
}

/** A plain button with the same list, for thumbs. */
export function AddButton({ editor }: { editor: Editor }) {
  const box = useRef<HTMLDialogElement>(null);
  return (
    <>
      <button type="button" className="btn add-button" onClick={() => box.current?.showModal()}>
        Add to this page
      </button>
      <dialog ref={box} className="insert-sheet" aria-label="Add to this page" closedby="any">
        <ul className="insert-list">
          <Items
            items={insertables}
            chosen={-1}
            idPrefix="add"
            choose={(item) => {
              box.current?.close();
              item.insert(editor);
            }}
          />
        </ul>
        <button type="button" className="btn" onClick={() => box.current?.close()}>
          Close
        </button>
      </dialog>
    </>
  );
}
