/** How much one socket, one member and one page may ask of the server. */

/** One frame: a sync step 2 may carry all that was written offline, and may fill it. */
export const mostFrameBytes = 4 << 20;
/** One edit. */
export const mostUpdateBytes = 1 << 20;
export const mostVectorBytes = 64 << 10;
/** Frames that wait for a page to be in memory. */
export const mostWaitingFrames = 64;
/** What a slow reader may be behind, beside the answers it asked for. */
export const mostBufferedBytes = 4 << 20;
/** Changes of the whole server that wait for a log which takes nothing. */
export const mostUnsavedBytes = 64 << 20;
/** Size, as stored, from which a page takes no more content. */
export const mostPageBytes = 20 << 20;
/** Size, as stored, from which the server warns whoever reads its messages. */
export const bigPageBytes = 5 << 20;
export const mostSocketsOfMember = 20;
export const mostSocketsOfPage = 200;

const burstSeconds = 5;
/** Costs per second. A frame costs 1, and 1 more for each 16 KiB. */
export const socketRate = 200;
/** Over all sockets of a member. */
export const memberRate = 400;
export const frameCost = (bytes: number) => 1 + (bytes >> 14);
/** A state vector of a few bytes is answered with the whole page. */
export const askCost = (pageBytes: number) => 20 + (pageBytes >> 18);

/** An allowance that fills up again with time. */
export class Budget {
  private left: number;
  private at = performance.now();

  constructor(private readonly rate: number) {
    this.left = rate * burstSeconds;
  }

  /** False when it is used up. */
  afford(cost: number): boolean {
    this.refill();
    this.left -= cost;
    return this.left >= 0;
  }

  get full(): boolean {
    this.refill();
    return this.left >= this.rate * burstSeconds;
  }

  private refill() {
    const now = performance.now();
    this.left = Math.min(this.rate * burstSeconds, Math.max(0, this.left) + ((now - this.at) / 1000) * this.rate);
    this.at = now;
  }
}
