import type { Metadata } from 'next';
import { Bare } from '@/lib/ui/shell';

export const metadata: Metadata = { title: 'Something broke', robots: { index: false } };

/** Shown in place of a page that failed. */
export default function Broken() {
  return (
    <Bare title="Something broke here">
      <p className="lead">Nothing that was saved is lost. Load the page again; if it happens again, tell whoever runs this notebook.</p>
      <p>
        <a href="/">Back to the bench</a>
      </p>
    </Bare>
  );
}
