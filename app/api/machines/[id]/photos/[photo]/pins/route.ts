import { photoParam, pinsBody, pinsResponse, putPins, readPins } from '@/app/api/chart-pins';
import { endpoint } from '@/lib/http/endpoint';
import { machineId } from '../../../../../shapes';

const params = machineId.extend(photoParam);

export const GET = endpoint({
  method: 'GET',
  path: '/api/machines/{id}/photos/{photo}/pins',
  summary: 'What is pinned on a photo of a machine',
  params,
  response: pinsResponse,
  action: 'read',
  thing: 'machine',
  handler: ({ params: { id, photo } }) => readPins('machine', id, photo),
});

export const PUT = endpoint({
  method: 'PUT',
  path: '/api/machines/{id}/photos/{photo}/pins',
  summary: 'Keeps what is pinned on a photo of a machine; what others pinned since is joined, or named where it cannot be',
  params,
  body: pinsBody,
  response: pinsResponse,
  action: 'write',
  thing: 'machine',
  handler: ({ params: { id, photo }, body, member }) => putPins('machine', id, photo, body, member.id),
});
