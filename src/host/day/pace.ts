/**
 * When to arrange again while frames stream in. An arrangement costs time in proportion to all frames so far, so
 * arranging once per so many new frames would grow with the square of the day. Instead arranging gets a share of the
 * time: after one that took t it rests 4 t, so it never takes more than a fifth of one core however long the day is.
 */
const REST_PER_WORK = 4;
/** Nothing on a screen is read faster than this. */
const LEAST_REST_MS = 250;

/** Milliseconds to wait from now; a person's word does not wait. */
export function restBeforeArranging(pace: {
  readonly isUrgent: boolean;
  readonly lastTookMs: number;
  readonly sinceLastMs: number;
}): number {
  if (pace.isUrgent) return 0;
  return Math.max(0, Math.max(LEAST_REST_MS, REST_PER_WORK * pace.lastTookMs) - pace.sinceLastMs);
}
