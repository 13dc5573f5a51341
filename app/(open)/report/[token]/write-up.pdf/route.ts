/** `/report/<token>/write-up.pdf?paper=letter`, for whoever has the customer's link. */
import { pdfAnswer } from '@/app/pdf-file';
import { filesOf, openedHere, shownBy } from '@/app/write-up';
import { writeUpPdf } from '@/lib/print/write-up';

type Context = { params: Promise<{ token: string }> };

export async function GET(request: Request, { params }: Context) {
  const { token } = await params;
  const met = await openedHere(request.headers, token);
  if (met.state === 'locked')
    return new Response(null, { status: 303, headers: { location: `/report/${encodeURIComponent(token)}`, 'cache-control': 'no-store' } });
  return pdfAnswer(request, async (paper) => {
    const copy = met.state === 'open' ? await shownBy(met.link) : null;
    if (met.state !== 'open' || !copy)
      return { status: 404, message: 'This link does not work any more. Ask whoever sent it for another.' };
    const made = new Date(met.link.createdAt);
    return { bytes: await writeUpPdf(copy, { pictures: await filesOf(met.link.page, copy), made }, paper), name: `write-up-${paper}.pdf` };
  });
}
