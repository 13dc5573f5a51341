import type { Metadata } from 'next';
import { allBringing, type Bringing } from '@/lib/archive/bringing';
import { limits } from '@/lib/archive/zip-read';
import { Entry, Widget } from '@/lib/ui/shell';
import { requireRight } from '../../../member';
import { Frame } from '../../frame';
import { outcomeWords, progressWords } from './how-far';

export const metadata: Metadata = { title: 'Bring an archive in' };
const refusals: Record<string, string> = {
  none: 'Choose a file first.',
  large: `The file is larger than ${limits.archiveBytes / 1024 ** 3} GiB. Take the club away machine by machine.`,
  gone: 'That archive is no longer here. Bring it again.',
};

const latelyWords = (bringing: Bringing): string =>
  bringing.state === 'going'
    ? progressWords(bringing.progress)
    : bringing.state === 'over'
      ? outcomeWords(bringing.outcome)
      : 'One that was cut off';

export default async function Bring({ searchParams }: { searchParams: Promise<{ why?: string }> }) {
  const member = await requireRight('/club/import', 'manage', 'club');
  const lately = allBringing();
  const why = refusals[(await searchParams).why ?? ''];
  return (
    <Frame member={member} here="Club" title="Bring an archive in">
      <Entry>
        <h1>Bring an archive in</h1>
        <p className="soft">
          A ZIP file that a notebook like this one gave: of a page, a machine or a whole club. You see what it would add before anything is
          kept. <a href="/help#archive">What is in one</a>.
        </p>
        <form className="form" action="/club/import/take" method="post" encType="multipart/form-data" data-upload="">
          {why && (
            <p className="form-message" role="alert">
              {why}
            </p>
          )}
          <p className="form-field">
            <label htmlFor="archive">Archive</label>
            <input id="archive" name="archive" type="file" accept=".zip,application/zip" required />
          </p>
          <button type="submit" className="btn fill">
            Look into it
          </button>
        </form>
        {lately.length > 0 && (
          <Widget title="Brought in lately">
            <ul className="rows">
              {lately.map(({ id, bringing }) => (
                <li key={id}>
                  <a href={`/club/import/${id}`}>{latelyWords(bringing)}</a>
                </li>
              ))}
            </ul>
          </Widget>
        )}
      </Entry>
    </Frame>
  );
}
