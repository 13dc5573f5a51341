/** The line between several servers, in memory: it can lose, delay and reorder, the same way for the same seed. */
import type { Bus, BusMessage, LogEntry, UpdateLog } from '@/lib/store/types';
import { type FakeLog, random } from './helpers';

interface End {
  onMessage(message: BusMessage): void;
  onGap(): void;
  deaf: boolean;
}
export interface LineOptions {
  seed?: number;
  /** Of 100 messages, how many are lost without anybody noticing. */
  lost?: number;
  /** The longest delay of a message, ms; delays differ, so messages overtake each other. Without one they arrive at once. */
  late?: number;
}

export class FakeLine {
  readonly sent: BusMessage[] = [];
  private readonly ends = new Set<End>();
  private readonly r: ReturnType<typeof random>;
  private readonly timers = new Set<NodeJS.Timeout>();

  constructor(private readonly options: LineOptions = {}) {
    this.r = random(options.seed ?? 1);
  }

  /** One server's end of the line, and the log as that server has it: each append tells the others. */
  node(log: FakeLog) {
    const end: End = { onMessage() {}, onGap() {}, deaf: false };
    this.ends.add(end);
    let killed = false;
    const bus: Bus = {
      send: (message) => {
        if (!killed) this.send(end, message);
      },
      listen(onMessage, onGap) {
        end.onMessage = onMessage;
        end.onGap = onGap;
      },
      close: async () => {},
    };
    const alive = () => {
      if (killed) throw new Error('There is no page for a killed server.'); // so that what it still had to save dies with it
    };
    const through: UpdateLog = {
      async load(page, after) {
        alive();
        return log.load(page, after);
      },
      append: async (entries: LogEntry[]) => {
        alive();
        const numbers = await log.append(entries);
        const heads = new Map<string, number>();
        for (const [i, { page }] of entries.entries()) heads.set(page, numbers[i]!);
        for (const [page, number] of heads) this.send(end, { kind: 'log', page, number });
        alive();
        return numbers;
      },
    };
    return {
      bus,
      through,
      /** Nothing of this server reaches the log or the others any more. */
      kill: () => {
        killed = true;
        this.ends.delete(end);
      },
      /** The connection is lost: nothing arrives. */
      cut() {
        end.deaf = true;
      },
      /** The connection is there again. */
      mend() {
        end.deaf = false;
        end.onGap();
      },
    };
  }

  /** From now on every message arrives, at once. */
  calm() {
    this.options.lost = 0;
    this.options.late = 0;
  }

  stop() {
    for (const timer of this.timers) clearTimeout(timer);
  }

  private send(from: End, message: BusMessage) {
    this.sent.push(message);
    for (const end of this.ends) {
      if (end === from || this.r.below(100) < (this.options.lost ?? 0)) continue;
      const arrive = () => {
        if (!end.deaf) end.onMessage(message);
      };
      if (!this.options.late) {
        arrive();
        continue;
      }
      const timer = setTimeout(() => {
        this.timers.delete(timer);
        arrive();
      }, this.r.below(this.options.late));
      this.timers.add(timer);
    }
  }
}
