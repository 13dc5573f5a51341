/** Somebody at a window who writes and erases marks, and what of it the window has called saved. */
import type { LivePage } from '@/lib/live/client';
import type { random } from '../live/helpers';
import { eraseMark, type Marks, writeMark } from './tokens';
import { allSaved } from './window';

export class Hand {
  private fresh: string[] = [];
  private going: string[] = [];
  private count = 0;

  /** `onSaved` is called at the very moment when the window says that all is saved. */
  constructor(
    readonly name: string,
    readonly window: LivePage,
    private readonly marks: Marks,
    private readonly r: ReturnType<typeof random>,
    onSaved: () => void,
  ) {
    window.saved.subscribe(() => {
      if (!allSaved(window)) return;
      for (const mark of this.fresh) this.marks.fates.set(mark, 'saved');
      for (const mark of this.going) this.marks.fates.set(mark, 'erased');
      this.fresh = [];
      this.going = [];
      onSaved();
    });
  }

  /** Writes a mark and returns it. */
  write(): string {
    const mark = `${this.name}-${this.count++}`;
    this.marks.fates.set(mark, 'written');
    this.fresh.push(mark);
    writeMark(this.window.doc, mark, this.r);
    return mark;
  }

  erase(mark: string) {
    if (!eraseMark(this.window.doc, mark)) throw new Error(`${mark} is not on the page of ${this.name}`);
    this.fresh = this.fresh.filter((other) => other !== mark);
    this.marks.fates.set(mark, 'erasing');
    this.going.push(mark);
  }
}
