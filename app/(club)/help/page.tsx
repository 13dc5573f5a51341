import type { Metadata } from 'next';
import { archiveGuide } from '@/lib/archive/guide';
import { settings } from '@/lib/store/settings';
import { Entry } from '@/lib/ui/shell';
import { requireMember } from '../../member';
import { Frame } from '../frame';

export const metadata: Metadata = { title: 'For scripts' };

export default async function Help() {
  const member = await requireMember('/help');
  const { baseUrl } = settings();
  return (
    <Frame member={member} here="Club" title="For scripts">
      <Entry>
        <h1>For scripts and other tools</h1>
        <div className="prose">
          <p>
            Everything the widgets compute, and the search, can be asked as JSON. Make an access token on the <a href="/club">Club page</a>{' '}
            and send it along:
          </p>
          <pre>
            <code>{`curl -H "Authorization: Bearer fbk_…" \\\n  "${baseUrl}/api/search?q=grey-orange"`}</code>
          </pre>
          <p>
            <a href="/api/openapi.json">The OpenAPI document</a> describes every address, what it takes and what it gives. A refusal names
            the field and what to mend.
          </p>
          <h2 id="archive">Archives</h2>
          <p>
            <code>/pages/&lt;id&gt;/archive</code>, <code>/machines/&lt;id&gt;/archive</code> and, for an owner, <code>/club/archive</code>{' '}
            give a ZIP file; <code>/pages/&lt;id&gt;/parts.csv</code> gives what a page needs. Each archive says in its own{' '}
            <code>README.md</code> what is in it:
          </p>
          <pre>
            <code>{archiveGuide}</code>
          </pre>
        </div>
      </Entry>
    </Frame>
  );
}
