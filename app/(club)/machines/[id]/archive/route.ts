import { archiveResponse } from '@/app/archive-file';

type Context = { params: Promise<{ id: string }> };

export async function GET(request: Request, { params }: Context) {
  return archiveResponse(request, { scope: 'machine', id: (await params).id }, ['read', 'machine']);
}
