import { chartSchema } from '@/lib/core/chart/entry';
import { settings } from '@/lib/store/settings';

/** The JSON Schema of the file that a chart is exported to, as media type and identifier of the standard have it (JSON Schema 2020-12). */
export function GET() {
  const schema = { $id: `${settings().baseUrl}/api/charts/schema`, ...chartSchema() };
  return new Response(JSON.stringify(schema), { headers: { 'Content-Type': 'application/schema+json' } });
}
