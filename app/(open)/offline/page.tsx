import type { Metadata } from 'next';
import { Bare } from '@/lib/ui/shell';

export const metadata: Metadata = { title: 'No network', robots: { index: false } };

/** What the service worker shows in place of a screen that this device has no copy of. */
export default function Offline() {
  return (
    <Bare title="No network">
      <p className="lead">This screen was not opened on this device before, so there is no copy of it here.</p>
      <p>What you wrote on other pages is kept on this device and is sent when the network is back.</p>
      <section hidden data-copies="">
        <h2>Opens without network</h2>
        <ul />
      </section>
    </Bare>
  );
}
