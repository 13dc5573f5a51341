import { endpoint } from '@/lib/http/endpoint';
import { seenBefore } from '@/lib/search/search';
import { pageId, result } from '../../../shapes';

export const GET = endpoint({
  method: 'GET',
  path: '/api/pages/{id}/seen',
  summary: 'Past fixes like this page',
  params: pageId,
  response: result,
  action: 'read',
  thing: 'search',
  handler: async ({ params }) => ({ results: await seenBefore(params.id, 4) }),
});
