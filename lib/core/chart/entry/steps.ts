/** Work in steps: the caller takes a step at a time and rests between, so that typing never waits. */
export type Steps<T> = Generator<void, T>;

/** Takes all the steps at once. */
export function finish<T>(steps: Steps<T>): T {
  for (;;) {
    const next = steps.next();
    if (next.done) return next.value;
  }
}
