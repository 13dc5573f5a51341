'use client';
/** The page being written: the editor bound to the page's document. */
import Collaboration from '@tiptap/extension-collaboration';
import { Placeholder } from '@tiptap/extensions/placeholder';
import { type Editor, EditorContent, useEditor } from '@tiptap/react';
import { yUndoPluginKey } from '@tiptap/y-tiptap';
import { useEffect, useMemo, useState } from 'react';
import type * as Y from 'yjs';
import { contentRoot, widgetRoot } from '@/lib/live/protocol';
import { unknownWords } from '@/lib/live/words';
import { proseExtensions, schema } from '@/lib/notebook/schema';
import { unknownIn } from '@/lib/notebook/unknown';
import { Notice } from '../blocks';
import { carets } from './carets';
import { FlushSelection } from './flush-selection';
import { AddButton, SlashList } from './insert-list';
import { type Session, useSession, useStore } from './session';
import { slashStore } from './slash';
import { UniqueWidgets } from './unique-widgets';
import { LiveWidgetNode } from './widget-node';
import { undoWidgets } from './widget-state';

export function LiveEditor({ waiting }: { waiting: React.ReactNode }) {
  const session = useSession();
  const ready = useStore(session?.live.ready ?? neverReady);
  // Bound to a document that it does not know in full, an editor deletes the rest for everyone.
  const unknown = useMemo(
    () => (session && ready ? unknownIn(session.live.doc.getXmlFragment(contentRoot), schema) : null),
    [session, ready],
  );
  if (!session || !ready) return waiting;
  if (unknown !== null)
    return (
      <>
        <Notice title="Reload to write">
          <p>{unknownWords(unknown)}</p>
        </Notice>
        {waiting}
      </>
    );
  return <BoundEditor session={session} />;
}

const neverReady = { subscribe: () => () => {}, getSnapshot: () => false };

function BoundEditor({ session }: { session: Session }) {
  const { live, data } = session;
  const [slash] = useState(slashStore);
  const extensions = useMemo(
    () => [
      ...proseExtensions,
      LiveWidgetNode,
      FlushSelection.configure({ doc: live.doc }),
      UniqueWidgets.configure({ doc: live.doc }),
      Collaboration.configure({ document: live.doc, field: contentRoot }),
      carets(live, data.member),
      Placeholder.configure({
        placeholder: ({ node }) =>
          node.type.name === 'heading' && node.attrs.level === 1 ? 'What is wrong, in one line' : 'Write here, or type / to add something',
      }),
      ...(data.write ? [slash.extension] : []),
    ],
    [live, data, slash],
  );
  const editor = useEditor(
    {
      extensions,
      editable: data.write,
      immediatelyRender: false,
      shouldRerenderOnTransaction: false,
      injectCSS: false,
      editorProps: {
        attributes: {
          class: 'prose',
          'aria-label': 'The page',
          role: 'textbox',
          'aria-multiline': 'true',
          'aria-readonly': String(!data.write),
        },
      },
    },
    [extensions],
  );
  useEffect(() => {
    if (!editor) return;
    const undo = yUndoPluginKey.getState(editor.state)?.undoManager as Y.UndoManager | undefined;
    if (!undo) return;
    const untrack = undoWidgets(live.doc, undo);
    const follow = () => {
      editor.state.doc.descendants((node) => {
        if (node.type.name === 'widget') undo.addToScope(live.doc.getMap(widgetRoot(String(node.attrs.id))));
        return node.type.name !== 'widget';
      });
    };
    follow();
    editor.on('update', follow);
    return () => {
      editor.off('update', follow);
      untrack();
    };
  }, [editor, live]);
  useUndoKeys(editor);
  useWakeLock();
  if (!editor) return null;
  return (
    <>
      <EditorContent editor={editor} className="page-editor" />
      {data.write && (
        <div className="add-row no-print">
          <AddButton editor={editor} />
        </div>
      )}
      <SlashList slash={slash} />
    </>
  );
}

/** Undo and redo also when the focus is in a widget or nowhere: what is done there is part of the same history. */
function useUndoKeys(editor: Editor | null) {
  useEffect(() => {
    if (!editor) return;
    const press = (event: KeyboardEvent) => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey || event.defaultPrevented) return;
      const key = event.key.toLowerCase();
      const redo = key === 'y' || (key === 'z' && event.shiftKey);
      if (key !== 'z' && !redo) return;
      const at = event.target instanceof Element ? event.target : null;
      if (at !== document.body && !at?.closest('.widget-host')) return;
      event.preventDefault();
      if (redo) editor.commands.redo();
      else editor.commands.undo();
    };
    document.addEventListener('keydown', press);
    return () => document.removeEventListener('keydown', press);
  }, [editor]);
}

/** Keeps the screen awake while a page is worked on; quietly does nothing where the browser cannot. */
function useWakeLock() {
  useEffect(() => {
    if (!('wakeLock' in navigator)) return;
    let lock: WakeLockSentinel | null = null;
    let gone = false;
    const take = async () => {
      if (document.visibilityState !== 'visible') return;
      const taken = await navigator.wakeLock.request('screen').catch(() => null);
      if (gone) await taken?.release();
      else lock = taken;
    };
    void take();
    document.addEventListener('visibilitychange', take);
    return () => {
      gone = true;
      document.removeEventListener('visibilitychange', take);
      void lock?.release();
    };
  }, []);
}
