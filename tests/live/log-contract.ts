/** What every update log must do; run on the fake here and on the real one by the store. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { applyLoaded } from '@/lib/live/loaded';
import type { UpdateLog } from '@/lib/store/types';

export interface LogUnderTest {
  log: UpdateLog;
  /** Makes a page without content and returns its id. */
  newPage(): Promise<string>;
  /** A member that entries may name, or null where the log does not check. */
  member: string | null;
  close(): Promise<void>;
}

/** Registers the tests of the contract. `missingPage` is a well-formed id of a page that does not exist. */
export function registerLogContract(name: string, factory: () => Promise<LogUnderTest>, missingPage = 'nosuchpage00') {
  describe(`update log contract: ${name}`, () => {
    let under: LogUnderTest;
    beforeEach(async () => {
      under = await factory();
    });
    afterEach(() => under.close());

    const read = async (page: string) => {
      const doc = new Y.Doc();
      applyLoaded(doc, await under.log.load(page));
      return doc;
    };
    const entry = (page: string, update: Uint8Array) => ({ page, update, member: under.member });

    it('gives nothing for a page without content', async () => {
      expect((await under.log.load(await under.newPage())).tail).toEqual([]);
    });

    it('gives back what was appended, in order, the bytes of a lone update untouched', async () => {
      const page = await under.newPage();
      const doc = new Y.Doc();
      const updates: Uint8Array[] = [];
      doc.on('update', (u: Uint8Array) => updates.push(u));
      const text = doc.getText('t');
      text.insert(0, 'abc');
      await under.log.append([entry(page, updates[0]!)]);
      expect((await under.log.load(page)).tail.map((u) => [...u])).toEqual([[...updates[0]!]]);
      text.insert(3, 'def');
      text.delete(0, 2);
      await under.log.append(updates.slice(1).map((u) => entry(page, u)));
      expect((await read(page)).getText('t').toString()).toBe('cdef');
    });

    it('keeps the pages of one append apart', async () => {
      const pages = [await under.newPage(), await under.newPage(), await under.newPage()];
      const docs = pages.map((page) => {
        const doc = new Y.Doc();
        doc.getText('t').insert(0, `words of ${page}`);
        return doc;
      });
      await under.log.append(pages.map((page, i) => entry(page, Y.encodeStateAsUpdate(docs[i]!))));
      for (const page of pages) expect((await read(page)).getText('t').toString()).toBe(`words of ${page}`);
    });

    // By these words the live server knows a page that is gone from a log that only fails.
    it('rejects the load of a page that does not exist, and says so', async () => {
      await expect(under.log.load(missingPage)).rejects.toThrow(/^there is no page/i);
      await expect(under.log.load(missingPage, Number.MAX_SAFE_INTEGER)).rejects.toThrow(/^there is no page/i);
    });

    it('keeps nothing of an append that names a page that does not exist', async () => {
      const page = await under.newPage();
      const doc = new Y.Doc();
      doc.getText('t').insert(0, 'x');
      const update = Y.encodeStateAsUpdate(doc);
      await expect(under.log.append([entry(page, update), entry(missingPage, update)])).rejects.toThrow(/^there is no page/i);
      expect((await under.log.load(page)).tail).toEqual([]);
    });

    it('keeps all of many appends at the same time', async () => {
      const page = await under.newPage();
      const docs = Array.from({ length: 20 }, (_, i) => {
        const doc = new Y.Doc();
        doc.getMap('m').set(String(i), i);
        return doc;
      });
      await Promise.all(docs.map((doc) => under.log.append([entry(page, Y.encodeStateAsUpdate(doc))])));
      expect((await read(page)).getMap('m').size).toBe(20);
    });

    it('takes an empty append', async () => {
      await under.log.append([]);
    });
  });
}
