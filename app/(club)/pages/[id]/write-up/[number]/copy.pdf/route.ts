/** `/pages/<page>/write-up/<number>/copy.pdf?paper=letter`: a copy that was sent. */
import { pdfResponse } from '@/app/pdf-file';
import { filesOf } from '@/app/write-up';
import { writeUpPdf } from '@/lib/print/write-up';
import { getPage } from '@/lib/store/pages';
import { copiesOf } from '@/lib/store/write-ups';

type Context = { params: Promise<{ id: string; number: string }> };

export async function GET(request: Request, { params }: Context) {
  const { id, number } = await params;
  return pdfResponse(request, 'read', 'report', async (paper) => {
    const sent = (await getPage(id)) && (await copiesOf(id)).find((copy) => String(copy.number) === number);
    if (!sent) return { status: 404, message: `No copy ${number} of this page was sent.` };
    const bytes = await writeUpPdf(sent.copy, { pictures: await filesOf(id, sent.copy), made: new Date(sent.at) }, paper);
    return { bytes, name: `write-up-${sent.copy.title}-copy-${number}-${paper}.pdf` };
  });
}
