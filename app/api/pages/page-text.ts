/** A page as the programming interface gives and takes it. */
import { loadPage } from '@/app/(club)/pages/[id]/load';
import { problem } from '@/lib/http/problem';
import { fromMarkdown, readableMarkdown, toMarkdown } from '@/lib/notebook/markdown';
import { getPage } from '@/lib/store/pages';
import { settings } from '@/lib/store/settings';
import type { PageRow } from '@/lib/store/types';

export const info = (page: PageRow) => ({
  id: page.id,
  title: page.title,
  machine: page.machineId,
  state: page.state,
  on: page.on,
  url: `${settings().baseUrl}/pages/${page.id}`,
});

export async function pageText(id: string) {
  const page = await getPage(id);
  if (!page) throw problem(404, `There is no page ${id}.`);
  const { content, evaluated } = await loadPage(id);
  return { ...info(page), markdown: toMarkdown(content), readable: readableMarkdown(content, evaluated), notices: [] as string[] };
}

/** Reads CommonMark, or says what to mend. */
export function readText(markdown: string) {
  const read = fromMarkdown(markdown);
  if (!read.ok) throw problem(422, read.message, [{ field: 'markdown', message: read.message, mend: read.mend }]);
  return read;
}
