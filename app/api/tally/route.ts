import * as z from 'zod';
import { tally } from '@/lib/core/parts';
import { endpoint } from '@/lib/http/endpoint';
import { getCatalogue, stock } from '@/lib/store/parts';
import { reservedFor } from '@/lib/store/stock';
import { result } from '../shapes';

const need = z.object({
  part: z.string().max(40).optional(),
  name: z.string().max(120),
  quantity: z.number().int().min(1).max(100_000),
  from: z.string().max(80).default('asked'),
  note: z.string().max(200).optional(),
});

export const POST = endpoint({
  method: 'POST',
  path: '/api/tally',
  summary: 'Sums what is needed and holds it against what is free of the stock, with who has the rest; nothing is reserved',
  body: z.object({ needs: z.array(need).max(500) }),
  response: result,
  action: 'read',
  thing: 'stock',
  async handler({ body }) {
    const [{ catalogue }, onHand, reserved] = await Promise.all([getCatalogue(), stock(), reservedFor(null)]);
    return { ...tally(body.needs, catalogue, onHand, reserved) };
  },
});
