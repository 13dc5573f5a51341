import { takeChartPhoto } from '@/app/chart-photo';

export const POST = async (request: Request, { params }: { params: Promise<{ id: string }> }) =>
  takeChartPhoto(request, 'design', (await params).id);
