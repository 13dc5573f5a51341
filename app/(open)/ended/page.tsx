/** What a customer sees behind a link that opens nothing. It says the same of every such link, so that a guess tells nothing. */
import type { Metadata } from 'next';
import { Bare } from '@/lib/ui/shell';

export const metadata: Metadata = { title: 'This link does not open', robots: { index: false } };

export default function Ended() {
  return (
    <Bare title="This link does not open">
      <p className="lead">Its time is over, it was taken back, or a letter of it is missing. Ask whoever sent it to you for a new one.</p>
    </Bare>
  );
}
