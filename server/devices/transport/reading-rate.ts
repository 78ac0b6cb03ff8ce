/** Looks back over this many ticks of the report timer: about one second. */
const TICKS_LOOKED_BACK = 4;

/** Readings per second, from a total that is looked at now and then: constant cost per reading. */
export class ReadingRate {
  private marks: { atMs: number; total: number }[] = [];
  perSecond = 0;

  restart(atMs: number, total: number): void {
    this.marks = [{ atMs, total }];
    this.perSecond = 0;
  }

  tick(atMs: number, total: number): void {
    this.marks.push({ atMs, total });
    if (this.marks.length > TICKS_LOOKED_BACK + 1) this.marks.shift();
    const first = this.marks[0]!;
    const passedMs = atMs - first.atMs;
    this.perSecond =
      passedMs > 0 ? Math.round(((total - first.total) / passedMs) * 10_000) / 10 : 0;
  }
}
