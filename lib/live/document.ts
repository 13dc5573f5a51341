/** A page's document in memory, and the way back when an update fails half-way. */
import * as Y from 'yjs';
import type { LogPage } from '@/lib/store/types';
import { dropGaps } from './check';
import { applyLoaded } from './loaded';

const mostSteps = 1000; // updates that the way back may have to repeat
const leastRenewBytes = 256 << 10;

/**
 * An update that decodes can still fail half-way through integration, and a document cannot be rolled back. So the bytes from which it
 * can be made again are kept: a restore point, and what was changed since. That costs memory of about the encoded size, and nothing at
 * an edit; to try each update on a copy first would cost a second document and the work of every edit twice.
 */
export class PageDocument {
  private current: Y.Doc;
  private point: Pick<LogPage, 'base' | 'tail'>;
  private pointBytes: number;
  private since: Uint8Array[] = [];
  private sinceBytes = 0;
  private emitted: Uint8Array[] = [];
  /** True when even the way back failed: the document must not be used any more. */
  broken = false;

  /** Throws when what was loaded cannot be applied. */
  constructor(loaded: LogPage) {
    this.point = loaded;
    this.pointBytes = (loaded.base?.length ?? 0) + loaded.tail.reduce((sum, update) => sum + update.length, 0);
    this.current = this.build();
  }

  /** Not to be kept: a failed update replaces it. */
  get doc(): Y.Doc {
    return this.current;
  }
  /** About its size as stored. */
  get bytes(): number {
    return this.pointBytes + this.sinceBytes;
  }

  /**
   * Applies a checked update. `changes` is what the document did not have; `whole` is false when part of it was dropped because
   * something before it is missing. Throws, with the document as it was, when it cannot be integrated.
   */
  apply(update: Uint8Array): { changes: Uint8Array[]; whole: boolean } {
    this.emitted = [];
    try {
      Y.applyUpdate(this.current, update);
    } catch (error) {
      this.broken = true;
      this.current.destroy();
      this.current = this.build();
      this.broken = false;
      throw error;
    }
    const whole = !dropGaps(this.current);
    return { changes: this.keep(), whole };
  }

  /** Takes in what the log has beyond it and gives what that changed. After a throw the document must not be used any more. */
  follow(loaded: LogPage): Uint8Array[] {
    this.emitted = [];
    applyLoaded(this.current, loaded);
    if (dropGaps(this.current)) throw new Error('an entry of the log builds on something that is not there');
    return this.keep();
  }

  /** What `change` does to a copy, as an update: a change that throws leaves no half of itself. */
  difference(client: number, change: (doc: Y.Doc) => void): Uint8Array {
    const copy = new Y.Doc({ gc: true });
    Y.applyUpdate(copy, Y.encodeStateAsUpdate(this.current));
    copy.clientID = client;
    const before = Y.encodeStateVector(copy);
    copy.transact(() => change(copy));
    const update = Y.encodeStateAsUpdate(copy, before);
    copy.destroy();
    return update;
  }

  destroy() {
    this.current.destroy();
  }

  private build(): Y.Doc {
    const doc = new Y.Doc({ gc: true });
    applyLoaded(doc, this.point);
    dropGaps(doc);
    for (const update of this.since) Y.applyUpdate(doc, update);
    doc.on('update', (update: Uint8Array) => this.emitted.push(update));
    return doc;
  }

  private keep(): Uint8Array[] {
    for (const update of this.emitted) {
      this.since.push(update);
      this.sinceBytes += update.length;
    }
    if (this.since.length >= mostSteps || this.sinceBytes >= Math.max(leastRenewBytes, this.pointBytes / 4)) {
      this.point = { base: Y.encodeStateAsUpdateV2(this.current), tail: [] };
      this.pointBytes = this.point.base!.length;
      this.since = [];
      this.sinceBytes = 0;
    }
    return this.emitted;
  }
}
