/** The page as plain data: what is read from a Y.Doc, from Markdown, from the database. */
import type { Fact, Progress, WidgetDefinition, WidgetState, WriteUpPart } from '@/lib/widgets/definition';

/** ProseMirror JSON. */
export interface DocNode {
  type: string;
  attrs?: Record<string, unknown>;
  content?: DocNode[];
  text?: string;
  marks?: { type: string; attrs?: Record<string, unknown> }[];
}
/** A page's whole content: the document and the state of each of its widgets by id. */
export interface PageContent {
  doc: DocNode; // type 'doc'; its first heading of level 1 is the title
  widgets: Record<string, WidgetState>; // by widget id
}
/** One widget of a page, computed. `definition` is null for a kind this version does not know; its data is kept and shown plainly. */
export interface EvaluatedWidget {
  id: string;
  kind: string;
  state: WidgetState;
  definition: WidgetDefinition | null;
  model: unknown;
  error?: string; // state that its schema refused: what to mend
}
export interface EvaluatedPage {
  title: string;
  text: string; // plain text of the prose, title first
  body: string; // the same without title and headings
  widgets: EvaluatedWidget[]; // in page order
  facts: Fact[]; // of all widgets and the machine, without repeats
  progress: (Progress & { widget: string })[];
}
export type { Fact, Progress, WriteUpPart };
