import { clubName } from '@/app/club';
import { pdfResponse } from '@/app/pdf-file';
import { indexChart } from '@/lib/core/chart';
import { matrixMap } from '@/lib/print/matrix-map';
import { getChartParts } from '@/lib/store/machines';
import { settings } from '@/lib/store/settings';

type Context = { params: Promise<{ id: string }> };

export async function GET(request: Request, { params }: Context) {
  const { id } = await params;
  return pdfResponse(request, 'read', 'machine', async (paper) => {
    const parts = await getChartParts(id);
    if (!parts) return { status: 404, message: `There is no machine ${id}.` };
    const chart = indexChart(parts.machine, parts.design);
    const bytes = await matrixMap(
      { chart, address: `${settings().baseUrl}/machines/${id}`, club: await clubName(), made: new Date() },
      paper,
    );
    return { bytes, name: `map-${id}-${paper}.pdf` };
  });
}
