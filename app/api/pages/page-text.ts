/** A page as the programming interface gives and takes it. */
import { problem } from '@/lib/http/problem';
import { live } from '@/lib/live/house';
import { contentOf } from '@/lib/notebook/content';
import { fromMarkdown, toMarkdown } from '@/lib/notebook/markdown';
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
  return { ...info(page), markdown: toMarkdown(await live().read(id, contentOf)), notices: [] as string[] };
}

/** Reads CommonMark, or says what to mend. */
export function readText(markdown: string) {
  const read = fromMarkdown(markdown);
  if (!read.ok) throw problem(422, read.message, [{ field: 'markdown', message: read.message, mend: read.mend }]);
  return read;
}
