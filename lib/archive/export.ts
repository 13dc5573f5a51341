/** A page, a machine or the club as an archive. Whoever calls has asked for the right. */
import { exportJson, exportTables } from '@/lib/core/chart/entry';
import { picturesOfChart } from '@/lib/core/chart/pinned';
import type { BoardDesign, Machine } from '@/lib/core/chart/schema';
import { ownGroups } from '@/lib/search/thesaurus';
import { allMoves } from '@/lib/store/all-moves';
import { getSetting } from '@/lib/store/club';
import { ownLetterhead } from '@/lib/store/letterhead';
import { getDesign, getMachine, listDesigns, listMachines } from '@/lib/store/machines';
import { getMember } from '@/lib/store/members';
import { getPage, listPages } from '@/lib/store/pages';
import { getCatalogue, stock } from '@/lib/store/parts';
import type { PageRow } from '@/lib/store/types';
import { stockCsv } from './csv';
import { archiveFormat, archiveSchema, archiveVersion, type Manifest, type MemberName } from './format';
import { archiveGuide } from './guide';
import { pageFiles, type Seen, writeUpFiles } from './page-files';
import { pictureFiles } from './picture-files';
import { type ArchiveFile, zipStream } from './zip-stream';

export type Scope = { scope: 'page' | 'machine'; id: string } | { scope: 'club' };

/** What goes in, by id; null when there is no such page or machine. */
async function contentsOf(what: Scope): Promise<{ pages: PageRow[]; machines: string[]; designs: string[] } | null> {
  if (what.scope === 'club') {
    const [pages, machines, designs] = await Promise.all([listPages(), listMachines(), listDesigns()]);
    return { pages, machines: machines.map((m) => m.id), designs: designs.map((d) => d.id) };
  }
  const page = what.scope === 'page' ? await getPage(what.id) : null;
  if (what.scope === 'page' && !page) return null;
  const machineId = page ? page.machineId : what.id;
  const machine = machineId ? await getMachine(machineId) : null;
  if (!machine) return page ? { pages: [page], machines: [], designs: [] } : null;
  const pages = page ? [page] : await listPages({ machineId: machine.machine.id });
  return { pages, machines: [machine.machine.id], designs: [machine.machine.design] };
}

/**
 * The archive as a stream (ZIP), made while it is taken; null when there is no such thing. Of a page or a machine it holds the charts and
 * the catalogue too, without which its widgets would say something else. Without `writeUps`, what was worded for and sent to customers stays out.
 */
export async function exportArchive(
  what: Scope,
  { writeUps = true }: { writeUps?: boolean } = {},
): Promise<ReadableStream<Uint8Array> | null> {
  const contents = await contentsOf(what);
  if (!contents) return null;
  const head: Omit<Manifest, 'files'> = {
    format: archiveFormat,
    version: archiveVersion,
    scope: what.scope,
    club: (await getSetting('club.name')) ?? '',
    madeAt: new Date().toISOString(),
  };
  return zipStream(filesOf(what, contents, writeUps), head);
}

async function* filesOf(
  { scope }: Scope,
  { pages, machines, designs }: { pages: PageRow[]; machines: string[]; designs: string[] },
  writeUps: boolean,
): AsyncGenerator<ArchiveFile> {
  yield { path: 'README.md', text: archiveGuide };
  yield { path: 'schema.json', text: json(archiveSchema()) };
  const shelf = { catalogue: (await getCatalogue()).catalogue, stock: await stock() };
  yield { path: 'catalogue.json', text: json(shelf.catalogue) };
  const shown = new Set<string>();
  const show = (pictures: readonly string[]) => {
    for (const hash of pictures) shown.add(hash);
  };
  for (const id of designs) {
    const found = await getDesign(id);
    if (!found) continue;
    show(picturesOfChart(found.design));
    yield* chartFiles(`designs/${id}`, found.design);
  }
  for (const id of machines) {
    const found = await getMachine(id);
    const design = found && (await getDesign(found.machine.design));
    if (!found || !design) continue;
    show(picturesOfChart(found.machine));
    yield* chartFiles(`machines/${id}`, design.design, found.machine);
  }
  const wrote = new Set<string>();
  const seen: Seen = { member: (id) => wrote.add(id), pictures: show };
  for (const page of pages) {
    yield* await pageFiles(page, shelf, seen);
    if (writeUps) yield* await writeUpFiles(page.id, seen);
  }
  const letterhead = scope === 'club' && writeUps ? await ownLetterhead() : null;
  if (letterhead) yield { path: 'letterhead.json', text: json(letterhead) };
  if (letterhead?.logo) show([letterhead.logo.picture]);
  yield* pictureFiles(shown);
  const moves = scope === 'club' ? await allMoves() : [];
  for (const { by } of moves) if (by) wrote.add(by);
  const names: MemberName[] = [];
  for (const id of wrote) {
    const member = await getMember(id);
    if (member) names.push({ id, name: member.name });
  }
  if (scope === 'club') {
    yield { path: 'stock.json', text: json(moves) };
    yield { path: 'stock.csv', text: stockCsv(moves, (id) => names.find((m) => m.id === id)?.name ?? '') };
  }
  const groups = scope === 'club' ? await ownGroups() : null;
  if (groups) yield { path: 'thesaurus.json', text: json({ groups }) };
  yield { path: 'members.json', text: json(names) };
}

const json = (value: unknown) => `${JSON.stringify(value, null, 1)}\n`;

function chartFiles(at: string, design: BoardDesign, machine?: Machine): ArchiveFile[] {
  const chart = { design, ...(machine && { machine }) };
  return [
    { path: `${at}/chart.json`, text: exportJson(chart) },
    ...exportTables(chart).map(({ name, csv }) => ({ path: `${at}/${name}`, text: `\ufeff${csv}` })),
  ];
}
