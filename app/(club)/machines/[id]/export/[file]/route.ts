import { chartFileResponse } from '@/app/chart-file';
import { getChartParts } from '@/lib/store/machines';

type Context = { params: Promise<{ id: string; file: string }> };

export async function GET(_: Request, { params }: Context) {
  const { id, file } = await params;
  return chartFileResponse(id, file, () => getChartParts(id));
}
