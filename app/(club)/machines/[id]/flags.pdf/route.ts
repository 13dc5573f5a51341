import * as z from 'zod';
import { clubName } from '@/app/club';
import { pdfResponse } from '@/app/pdf-file';
import { headerIn, headersAndHalves, indexChart } from '@/lib/core/chart';
import { flagLimits, usualFlag } from '@/lib/print/flag-size';
import { wireFlags } from '@/lib/print/wire-flags';
import { getChartParts } from '@/lib/store/machines';

type Context = { params: Promise<{ id: string }> };

const measure = (name: string, [least, most]: readonly [number, number], usual: number) =>
  z.coerce
    .number({ error: `${name}: write a number of millimetres, such as ${usual}.` })
    .min(least, `${name}: write ${least} mm or more.`)
    .max(most, `${name}: write ${most} mm or less.`)
    .default(usual);
const asked = z.object({
  width: measure('width', flagLimits.widthMm, usualFlag.widthMm),
  height: measure('height', flagLimits.heightMm, usualFlag.heightMm),
});

/** `?header=A3J4`, or a half of an in-line connector, `X1F` (more than once; all without it) `&width=26&height=9`, in mm: one half of a flag, folded. */
export async function GET(request: Request, { params }: Context) {
  const { id } = await params;
  return pdfResponse(request, 'read', 'machine', async (paper, query) => {
    const parts = await getChartParts(id);
    if (!parts) return { status: 404, message: `There is no machine ${id}.` };
    const chart = indexChart(parts.machine, parts.design);
    const size = asked.safeParse({ width: query.get('width') || undefined, height: query.get('height') || undefined });
    if (!size.success) return { status: 400, message: size.error.issues.map((issue) => issue.message).join(' ') };
    const wanted = query.getAll('header').filter(Boolean);
    const unknown = wanted.find((header) => !headerIn(chart, header));
    if (unknown) {
      const known = headersAndHalves(chart).map((each) => each.id);
      return { status: 404, message: `header: ${chart.title} has no ${unknown}. It has ${known.join(', ')}.` };
    }
    const flag = { widthMm: size.data.width, heightMm: size.data.height };
    const bytes = await wireFlags({ chart, headers: wanted, size: flag, club: await clubName(), made: new Date() }, paper);
    return { bytes, name: `flags-${[id, ...wanted].join('-')}-${paper}.pdf` };
  });
}
