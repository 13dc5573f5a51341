/** `/pages/<page>/write-up.pdf?paper=letter`: the write-up as it stands. */
import { pdfResponse } from '@/app/pdf-file';
import { filesOf, loadDraft } from '@/app/write-up';
import { staleLines } from '@/lib/notebook/writeup/wording';
import { writeUpPdf } from '@/lib/print/write-up';
import { getPage } from '@/lib/store/pages';

type Context = { params: Promise<{ id: string }> };

export async function GET(request: Request, { params }: Context) {
  const { id } = await params;
  return pdfResponse(request, 'read', 'page', async (paper) => {
    if (!(await getPage(id))) return { status: 404, message: `There is no page ${id}.` };
    const { lines, copy } = await loadDraft(id);
    const stale = staleLines(lines).map((line) => `“${line.text || line.wording?.words || line.derived || ''}”`);
    if (stale.length > 0)
      return { status: 409, message: `Worded before the facts changed: ${stale.join(', ')}. Look at it on the write-up first.` };
    const bytes = await writeUpPdf(copy, { pictures: await filesOf(id, copy), made: new Date() }, paper);
    return { bytes, name: `write-up-${copy.title}-${paper}.pdf` };
  });
}
