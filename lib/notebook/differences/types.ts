/** What differs between two states of a page. */
import type { WidgetState } from '@/lib/widgets/definition';
import type { DocNode } from '../types';

export type RunChange = 'same' | 'added' | 'removed';
/** A stretch of a changed text: one text node or hard break, with its marks. */
export interface Run {
  change: RunChange;
  node: DocNode;
}
/** A stretch of plain words. */
export interface WordRun {
  change: RunChange;
  text: string;
}

/** `moved-away` stands where a block was, `moved-here` where it is now. */
export type BlockChange = 'same' | 'added' | 'removed' | 'changed' | 'moved-away' | 'moved-here';
export interface BlockDifference {
  change: BlockChange;
  node: DocNode; // as it is after; as it was before, where it is gone
  /** Attributes before, of a changed block whose own have changed. */
  was?: Record<string, unknown>;
  runs?: Run[]; // what a changed paragraph, heading or code block says
  blocks?: BlockDifference[]; // what stands in a changed list, item or quotation
  /** Shared state of a widget that came, went or changed; null on the side where it is not. */
  widget?: { id: string; kind: string; before: WidgetState | null; after: WidgetState | null };
}

/** One thing that was done in a widget, in words; `runs` where a text was changed. */
export interface Line {
  words: string;
  runs?: WordRun[];
}
