/** Somebody who writes marks without a pause and believes what the page says about saving. */
import type { LivePage } from '@/lib/live/client';
import type { random } from '../live/helpers';
import { eraseMark, type Marks, writeMark } from './tokens';
import { allSaved, moveWindow, openWindow, sleep } from './window';

const longestPauseMs = 25;
const patienceMs = 300; // how long a writer sometimes waits to be told that all is saved

export class Writer {
  window: LivePage;
  private fresh: string[] = []; // written since all was last said to be saved
  private going: string[] = []; // erased since then
  private own: string[] = []; // saved marks of this writer
  private count = 0;
  private writing: Promise<void> | null = null;
  private stopped = false;

  constructor(
    readonly name: string,
    readonly page: string,
    private url: string,
    private readonly marks: Marks,
    private readonly r: ReturnType<typeof random>,
  ) {
    this.window = this.open();
  }

  private open(): LivePage {
    const window = openWindow(this.url, this.page, this.name);
    window.saved.subscribe(() => {
      if (allSaved(window)) this.acknowledged();
    });
    return window;
  }

  private acknowledged() {
    for (const mark of this.fresh) if (this.marks.fates.get(mark) === 'written') this.marks.fates.set(mark, 'saved');
    for (const mark of this.going) this.marks.fates.set(mark, 'erased');
    this.own.push(...this.fresh.filter((mark) => this.marks.fates.get(mark) === 'saved'));
    this.fresh = [];
    this.going = [];
  }

  start() {
    this.stopped = false;
    this.writing = this.write();
  }

  /** Resolves when it writes no more. */
  async stop() {
    this.stopped = true;
    await this.writing;
  }

  private async write() {
    while (!this.stopped) {
      if (this.window.ready.getSnapshot()) this.change();
      await sleep(this.r.below(longestPauseMs));
      if (this.r.below(4) === 0) {
        const end = performance.now() + patienceMs;
        while (!this.stopped && !allSaved(this.window) && performance.now() < end) await sleep(2);
      }
    }
  }

  private change() {
    if (this.own.length > 3 && this.r.below(6) === 0) {
      const [mark = ''] = this.own.splice(this.r.below(this.own.length), 1);
      this.marks.fates.set(mark, 'erasing');
      this.going.push(mark);
      if (eraseMark(this.window.doc, mark)) return;
      throw new Error(`${mark} was acknowledged, but is not on its writer's page`);
    }
    const mark = `${this.name}-${this.count++}`;
    this.marks.fates.set(mark, 'written');
    this.fresh.push(mark);
    writeMark(this.window.doc, mark, this.r);
  }

  disconnect() {
    this.window.provider.disconnect();
  }

  /** The window comes back with all that it has. */
  connect(url = this.url) {
    this.url = url;
    moveWindow(this.window, url);
    this.window.provider.connect();
  }

  /** The window is gone with what was not saved; another one is opened. */
  replace(url = this.url) {
    this.url = url;
    this.window.close();
    this.fresh = [];
    this.going = [];
    this.window = this.open();
  }

  async close() {
    await this.stop();
    this.window.close();
  }
}
