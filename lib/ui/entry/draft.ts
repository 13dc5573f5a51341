/** What was entered and is not saved, kept on this device for this member. */
import type { Kept } from './saving';
import type { Sheet } from './types';

const form = 1; // raised when the shape of a sheet changes; a draft of another shape is not read
interface Draft {
  form: number;
  at: number; // ms since 1970
  sheet: Sheet;
  kept: Kept;
}
type Store = Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>;

export const draftKey = (kind: Sheet['kind'], id: string, member: string) => `fettlebook.entry ${kind} ${id} ${member}`;

export function readDraft(store: Store, key: string): Draft | null {
  try {
    const draft = JSON.parse(store.getItem(key) ?? 'null') as Draft | null;
    return draft?.form === form ? draft : null;
  } catch {
    return null;
  }
}
/** False when this device has no room for it. */
export function writeDraft(store: Store, key: string, sheet: Sheet, kept: Kept, at: number): boolean {
  try {
    store.setItem(key, JSON.stringify({ form, at, sheet, kept } satisfies Draft));
    return true;
  } catch {
    return false;
  }
}
export function dropDraft(store: Store, key: string): void {
  try {
    store.removeItem(key);
  } catch {
    // A browser that keeps nothing has nothing to take away.
  }
}
