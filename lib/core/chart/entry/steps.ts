/** Work in steps: the caller takes some at a time and rests between, so that typing never waits. */
export type Steps<T> = Generator<void, T>;

/** Takes all the steps at once. */
export function finish<T>(steps: Steps<T>): T {
  for (;;) {
    const next = steps.next();
    if (next.done) return next.value;
  }
}

/** Takes one step, and more for as long as `goOn` says so; what the work gives when it is done. */
export function advance<T>(steps: Steps<T>, goOn: () => boolean): { done: true; value: T } | { done: false } {
  do {
    const next = steps.next();
    if (next.done) return { done: true, value: next.value };
  } while (goOn());
  return { done: false };
}
