/** Longest stretch of such work at a time, ms: a frame of 60 a second has room for it beside everything else. */
const SLICE_MS = 6;

/**
 * Runs work that yields every few milliseconds to its end, giving the page its turn between slices. Begins after
 * this has returned.
 * @returns stops it for good; of no effect when it has ended
 */
export function workInSlices(work: Generator<void>, onEnd: () => void = () => {}): () => void {
  let isStopped = false;
  const slice = (): void => {
    const endMs = performance.now() + SLICE_MS;
    do {
      if (isStopped) return;
      if (work.next().done) {
        onEnd();
        return;
      }
    } while (performance.now() < endMs);
    timer = setTimeout(slice, 0);
  };
  let timer = setTimeout(slice, 0);
  return () => {
    isStopped = true;
    clearTimeout(timer);
  };
}
