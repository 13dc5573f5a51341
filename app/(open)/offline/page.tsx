import type { Metadata } from 'next';
import { Bare, LinkButton } from '@/lib/ui/shell';

export const metadata: Metadata = { title: 'No network', robots: { index: false } };

/** What the service worker shows in place of a screen that this device has no copy of. Its lists are filled in by enhance.js. */
export default function Offline() {
  return (
    <Bare title="No network">
      <div className="offline">
        <p className="lead">This screen was not opened on this device before, so there is no copy of it here.</p>
        <p>
          What you write on the pages below is kept on this device. It is sent when the network is back and you open any page of the club;
          stay signed in until then.
        </p>
        <p>
          <LinkButton href="">Try again</LinkButton>
        </p>
        <section hidden data-waits="">
          <h2>Not sent yet</h2>
          <ul className="rows" />
        </section>
        <section hidden data-opens="">
          <h2>Opens without network</h2>
          <ul className="rows" />
        </section>
      </div>
    </Bare>
  );
}
