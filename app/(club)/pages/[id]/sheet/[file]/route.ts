import { clubName } from '@/app/club';
import { pdfResponse } from '@/app/pdf-file';
import type { ConnectorPlan } from '@/lib/core/harness/types';
import { readPicture } from '@/lib/files/pictures';
import { benchSheet } from '@/lib/print/bench-sheet';
import { getPage } from '@/lib/store/pages';
import { heldPicture } from '@/lib/store/pictures';
import { settings } from '@/lib/store/settings';
import type { Model } from '@/lib/widgets/connector-plan/definition';
import { loadPage } from '../../load';

type Context = { params: Promise<{ id: string; file: string }> };

/** `/pages/<page>/sheet/<widget>.pdf?paper=letter` */
export async function GET(request: Request, { params }: Context) {
  const { id, file } = await params;
  return pdfResponse(request, 'read', 'page', async (paper) => {
    if (!(await getPage(id))) return { status: 404, message: `There is no page ${id}.` };
    const { page, chart, evaluated } = await loadPage(id);
    const widget = evaluated.widgets.find((w) => `${w.id}.pdf` === file);
    if (!widget)
      return { status: 404, message: `This page has no connector plan ${file.replace(/\.pdf$/, '')}. It may have been taken out.` };
    if (widget.kind !== 'connector-plan') return { status: 404, message: 'Only a connector plan has a bench sheet.' };
    if (widget.error) return { status: 409, message: `The plan can’t be read yet: ${widget.error}` };
    const { result, ticks, seated, tugged } = widget.model as Model;
    if (!result) {
      const missing = chart
        ? 'No header is chosen yet. Choose one in the plan.'
        : 'The page belongs to no machine, so there is no header to choose.';
      return { status: 409, message: `The plan is not finished. ${missing}` };
    }
    if (!result.ok) return { status: 409, message: `The plan is not finished. ${result.message} ${result.mend}` };
    const bytes = await benchSheet(
      {
        plan: result.plan,
        ticks,
        seated,
        tugged,
        photos: await photosOf(result.plan),
        machine: chart?.title ?? '',
        page: page.title,
        address: `${settings().baseUrl}/pages/${id}`,
        club: await clubName(),
        made: new Date(),
      },
      paper,
    );
    return { bytes, name: `bench-sheet-${result.plan.housingName}-${paper}.pdf` };
  });
}

/** Of what was found otherwise at the connector; a photo that nothing holds, that was removed, or whose file is missing, is left out. */
async function photosOf({ asFound }: ConnectorPlan): Promise<Record<string, Buffer>> {
  const photos: Record<string, Buffer> = {};
  for (const { found } of asFound) {
    const picture = found.photo === undefined ? null : await heldPicture(found.photo);
    const shown = picture && (picture.onChart || picture.onPage) && !picture.removedAt;
    const file = shown ? await readPicture(picture, 800) : null;
    if (file) photos[found.id] = Buffer.from(file.bytes);
  }
  return photos;
}
