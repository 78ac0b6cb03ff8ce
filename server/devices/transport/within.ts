/** Waits for `work`, but no longer than `ms`: a driver that hangs must not hold up closing. Never rejects. */
export function within(work: Promise<void>, ms: number): Promise<void> {
  return new Promise((resolve) => {
    const deadline = setTimeout(resolve, ms);
    const done = () => {
      clearTimeout(deadline);
      resolve();
    };
    work.then(done, done);
  });
}
