import type { Route } from '@/lib/http/endpoint';
import { openApiDocument } from '@/lib/http/openapi';
import { settings } from '@/lib/store/settings';
import * as catalogue from '../catalogue/route';
import * as clue from '../clue/route';
import * as designPins from '../designs/[id]/photos/[photo]/pins/route';
import * as designPreview from '../designs/[id]/preview/route';
import * as designs from '../designs/[id]/route';
import * as designVersions from '../designs/[id]/versions/route';
import * as chart from '../machines/[id]/chart/route';
import * as chartVersions from '../machines/[id]/chart/versions/route';
import * as plan from '../machines/[id]/connector-plan/route';
import * as dependents from '../machines/[id]/dependents/route';
import * as lookup from '../machines/[id]/lookup/route';
import * as machinePins from '../machines/[id]/photos/[photo]/pins/route';
import * as machinePreview from '../machines/[id]/preview/route';
import * as machines from '../machines/route';
import * as history from '../pages/[id]/history/route';
import * as unlock from '../pages/[id]/links/[link]/unlock/route';
import * as links from '../pages/[id]/links/route';
import * as oldPicture from '../pages/[id]/pictures/[hash]/route';
import * as pictures from '../pages/[id]/pictures/route';
import * as page from '../pages/[id]/route';
import * as seen from '../pages/[id]/seen/route';
import * as pages from '../pages/route';
import * as search from '../search/route';
import * as tally from '../tally/route';

const rooms: Record<string, Route>[] = [
  machines,
  chart,
  chartVersions,
  machinePreview,
  dependents,
  designs,
  designPreview,
  designVersions,
  machinePins,
  designPins,
  lookup,
  plan,
  tally,
  catalogue,
  clue,
  search,
  pages,
  page,
  history,
  links,
  unlock,
  pictures,
  oldPicture,
  seen,
];

export function GET() {
  return Response.json(
    openApiDocument(
      rooms.flatMap((r) => Object.values(r)).map((r) => r.endpoint),
      settings().baseUrl,
    ),
  );
}
