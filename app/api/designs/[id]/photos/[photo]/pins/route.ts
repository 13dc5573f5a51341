import { photoParam, pinsBody, pinsResponse, putPins, readPins } from '@/app/api/chart-pins';
import { endpoint } from '@/lib/http/endpoint';
import { designId } from '../../../../../shapes';

const params = designId.extend(photoParam);

export const GET = endpoint({
  method: 'GET',
  path: '/api/designs/{id}/photos/{photo}/pins',
  summary: 'What is pinned on a photo of a board design',
  params,
  response: pinsResponse,
  action: 'read',
  thing: 'machine',
  handler: ({ params: { id, photo } }) => readPins('design', id, photo),
});

export const PUT = endpoint({
  method: 'PUT',
  path: '/api/designs/{id}/photos/{photo}/pins',
  summary: 'Keeps what is pinned on a photo of a board design; what others pinned since is joined, or named where it cannot be',
  params,
  body: pinsBody,
  response: pinsResponse,
  action: 'write',
  thing: 'machine',
  handler: ({ params: { id, photo }, body, member }) => putPins('design', id, photo, body, member.id),
});
