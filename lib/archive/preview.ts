/** What bringing an archive in would mean: what is new, what is here already, and what is here otherwise. */
import { differences } from '@/lib/core/chart/differences';
import { live } from '@/lib/live/house';
import { contentRoot } from '@/lib/live/protocol';
import { contentOf } from '@/lib/notebook/content';
import { titleOf } from '@/lib/notebook/prose';
import { schema } from '@/lib/notebook/schema';
import { unknownIn } from '@/lib/notebook/unknown';
import { ownGroups } from '@/lib/search/thesaurus';
import { allMoves } from '@/lib/store/all-moves';
import { ownLetterhead } from '@/lib/store/letterhead';
import { getDesign, getMachine } from '@/lib/store/machines';
import { getPage } from '@/lib/store/pages';
import { getCatalogue } from '@/lib/store/parts';
import { getPicture } from '@/lib/store/pictures';
import { wholeWriteUp } from '@/lib/store/whole-write-up';
import type { WriteUpFile } from './format';
import { counter, type Tell } from './progress';
import type { Archive } from './read';

export const kinds = ['design', 'machine', 'part', 'page', 'pictures', 'stock', 'thesaurus', 'letterhead'] as const;
export type Kind = (typeof kinds)[number];
export type Choice = 'keep' | 'both' | 'replace';
export interface Row {
  key: string; // page:own-page
  kind: Kind;
  id: string;
  title: string;
  state: 'new' | 'same' | 'conflict';
  choices: Choice[]; // of a conflict, the first unless another is chosen
}

/** Everything in the archive held against what is here. Rejects when a page or machine names a chart that is neither there nor here. */
export async function previewArchive(
  archive: Archive,
  tell: Tell = () => {},
): Promise<{ ok: true; rows: Row[] } | { ok: false; message: string; mend: string }> {
  const mend = 'Take the machine away together with its pages, and bring that archive.';
  const designs = new Set(archive.designs.map((d) => d.id));
  const machines = new Set(archive.machines.map((m) => m.id));
  for (const { id, design } of archive.machines)
    if (!designs.has(design) && !(await getDesign(design)))
      return {
        ok: false,
        message: `The machine ${id} stands on the board design ${design}, which is neither in the archive nor here.`,
        mend,
      };
  for (const { id, machine } of archive.pages)
    if (machine !== null && !machines.has(machine) && !(await getMachine(machine)))
      return { ok: false, message: `The page ${id} belongs to the machine ${machine}, which is neither in the archive nor here.`, mend };
  const rows: Row[] = [];
  const add = (kind: Kind, id: string, title: string, state: Row['state'], choices: Choice[]) =>
    rows.push({ key: `${kind}:${id}`, kind, id, title, state, choices });
  const stateOf = (here: boolean, same: boolean) => (here ? (same ? 'same' : 'conflict') : 'new');
  for (const chart of archive.designs) {
    const here = (await getDesign(chart.id))?.design;
    add('design', chart.id, chart.name, stateOf(Boolean(here), !!here && differences(here, chart).length === 0), ['keep', 'replace']);
  }
  for (const chart of archive.machines) {
    const here = (await getMachine(chart.id))?.machine;
    const title = [chart.name, chart.unit].filter(Boolean).join(', ');
    add('machine', chart.id, title, stateOf(Boolean(here), !!here && differences(here, chart).length === 0), ['keep', 'replace']);
  }
  const parts = new Map((await getCatalogue()).catalogue.parts.map((p) => [p.id, p]));
  for (const part of archive.catalogue.parts) {
    const here = parts.get(part.id);
    add('part', part.id, part.name, stateOf(Boolean(here), sameJson(here, part)), ['keep', 'replace']);
  }
  const looked = counter(tell, 'looking', archive.pages.length);
  for (const page of archive.pages) {
    const here = await getPage(page.id);
    const same =
      here !== null &&
      here.machineId === page.machine &&
      sameJson(await live().read(page.id, contentOf), page.content) &&
      (await sameWriteUp(page.id, archive.writeUps.get(page.id)));
    const choices: Choice[] = here && (await isNewer(page.id)) ? ['keep', 'both'] : ['keep', 'both', 'replace'];
    add('page', page.id, titleOf(page.content.doc), stateOf(Boolean(here), same), choices);
    looked();
  }
  if (archive.pictures.length > 0) {
    const here = await Promise.all(archive.pictures.map(({ hash }) => getPicture(hash)));
    const fresh = here.filter((picture) => picture === null).length;
    const count = archive.pictures.length;
    const title = `${count} ${count === 1 ? 'picture' : 'pictures'}${fresh < count ? `, ${count - fresh} of them here already` : ''}`;
    add('pictures', 'all', title, stateOf(fresh === 0, true), ['keep']);
  }
  if (archive.groups) {
    const here = await ownGroups();
    const title = `${archive.groups.length} groups of words that mean the same`;
    add('thesaurus', 'groups', title, stateOf(here !== null, sameJson(here, archive.groups)), ['keep', 'replace']);
  }
  if (archive.letterhead) {
    const here = await ownLetterhead();
    add('letterhead', 'club', archive.letterhead.name, stateOf(here !== null, sameJson(here, archive.letterhead)), ['keep', 'replace']);
  }
  if (archive.stock.length > 0) {
    const here = await allMoves();
    // A ledger is never rewritten and adding another one would count every bag twice: it comes in only where there is none.
    const plain = (moves: { part: string; quantity: number; at: string }[]) =>
      moves.map(({ part, quantity, at }) => ({ part, quantity, at }));
    add(
      'stock',
      'ledger',
      `${archive.stock.length} movements of stock`,
      stateOf(here.length > 0, sameJson(plain(here), plain(archive.stock))),
      ['keep'],
    );
  }
  return { ok: true, rows };
}

/** Whether a page here holds what only a newer build knows, so that replacing it would lose that. */
const isNewer = (page: string) => live().read(page, (doc) => unknownIn(doc.getXmlFragment(contentRoot), schema) !== null);

/** Whether nothing would change here: an archive without a write-up says nothing of it, and copies that only we sent stay. */
async function sameWriteUp(page: string, file: WriteUpFile | undefined): Promise<boolean> {
  if (!file) return true;
  const here = await wholeWriteUp(page);
  const plain = <T extends { by: string | null }>(all: readonly T[]) => all.map(({ by: _, ...each }) => each);
  const sent = plain(here?.copies ?? []).map(({ copy, at }) => ({ copy, at }));
  return (
    file.priced === (here?.priced ?? false) &&
    sameJson(plain(here?.lines ?? []), plain(file.lines)) &&
    file.copies.every(({ copy, at }) => sent.some((each) => sameJson(each, { copy, at })))
  );
}

/** Equal as JSON, whatever the order of keys. */
function sameJson(a: unknown, b: unknown): boolean {
  return JSON.stringify(ordered(a)) === JSON.stringify(ordered(b));
}
const ordered = (value: unknown): unknown =>
  Array.isArray(value)
    ? value.map(ordered)
    : typeof value === 'object' && value !== null
      ? Object.fromEntries(
          Object.entries(value)
            .filter(([, v]) => v !== undefined)
            .sort(([x], [y]) => (x < y ? -1 : 1))
            .map(([k, v]) => [k, ordered(v)]),
        )
      : value;
