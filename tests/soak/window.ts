/** A page as a browser window has it, opened from Node by a named member. */
import { WebSocket as NodeSocket } from 'ws';
import { type LivePage, openPage } from '@/lib/live/client';
import { livePath } from '@/lib/live/protocol';

/** `url` is that of a node: ws://127.0.0.1:<port>. */
export function openWindow(url: string, page: string, member: string): LivePage {
  class MemberSocket extends NodeSocket {
    constructor(address: string | URL) {
      super(address, { headers: { cookie: `member=${member}` } });
      this.on('error', () => {}); // a server that is not there is what these tests are about
    }
  }
  return openPage(page, url, MemberSocket as unknown as typeof WebSocket);
}

/** From its next connection on the window speaks with the node at `url`. */
export function moveWindow(window: LivePage, url: string) {
  window.provider.serverUrl = url + livePath.slice(0, -1);
}

/** What its owner is told counts as saved: everything written until now. */
export const allSaved = (window: LivePage) => {
  const { state, kept } = window.saved.getSnapshot();
  return state === 'saved' && kept === 0;
};

export const sleep = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));

/** Waits for a condition; false when it does not come in time. */
export async function comes(condition: () => boolean, ms: number): Promise<boolean> {
  const end = performance.now() + ms;
  while (!condition()) {
    if (performance.now() > end) return false;
    await sleep(5);
  }
  return true;
}
