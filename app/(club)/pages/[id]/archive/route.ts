import { archiveResponse } from '@/app/archive-file';

type Context = { params: Promise<{ id: string }> };

export async function GET(request: Request, { params }: Context) {
  return archiveResponse(request, { scope: 'page', id: (await params).id }, ['read', 'page']);
}
