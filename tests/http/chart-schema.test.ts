/** The schema of chart files as it is served. */
import { expect, test } from 'vitest';
import { GET } from '@/app/api/charts/schema/route';
import { chartSchema } from '@/lib/core/chart/entry';
import { settings } from '@/lib/store/settings';
import '../access/house'; // sets the settings

// JSON Schema 2020-12, core § 8.2.1 ($id is an absolute URI) and § 14 (media type application/schema+json).
test('the schema is served by its own address, to anyone', async () => {
  const response = GET();
  expect(response.status).toBe(200);
  expect(response.headers.get('Content-Type')).toBe('application/schema+json');
  const schema = (await response.json()) as Record<string, unknown>;
  expect(schema.$id).toBe(`${settings().baseUrl}/api/charts/schema`);
  expect(schema).toEqual({ ...JSON.parse(JSON.stringify(chartSchema())), $id: schema.$id });
});
