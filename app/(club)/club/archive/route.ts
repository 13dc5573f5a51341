import { archiveResponse } from '@/app/archive-file';

export const GET = (request: Request) => archiveResponse(request, { scope: 'club' }, ['manage', 'club']);
