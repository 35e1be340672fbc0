/**
 * What a day's evidence taught, as it is logged when a fill is complete: learnt anew under somebody's hands it would change
 * riders that nobody touched. The model of looks itself follows from these and the measurements.
 */

export interface Calibration {
  /** Of the descriptors it was learnt from: another measurer's are other likenesses. */
  readonly dimensions: number;
  /** Which of the looks tells bikes apart, counted from 0, and of how many. */
  readonly look: number;
  readonly looks: number;
  /** By the laps of riders; null where there were too few, or where somebody said it. */
  readonly fastestLapMs: number | null;
  /** Likeness above which bikes of a burst are one pass, passes of a session one rider, and those of a day roughly one. */
  readonly passLikeness: number;
  readonly trackletLikeness: number;
  readonly roughLikeness: number;
}

/** Of the way these are learnt: others are not understood. */
const VERSION = 1;

/** Null where nothing was logged, or by another version: then it is learnt from the day as it stands. */
export function readCalibration(logged: Readonly<Record<string, number>>): Calibration | null {
  const { version, dimensions, look, looks, fastestLapMs, passLikeness, trackletLikeness, roughLikeness } = logged;
  if (version !== VERSION || dimensions === undefined || look === undefined || looks === undefined) return null;
  if (passLikeness === undefined || trackletLikeness === undefined || roughLikeness === undefined) return null;
  return { dimensions, look, looks, fastestLapMs: fastestLapMs ?? null, passLikeness, trackletLikeness, roughLikeness };
}

export function writeCalibration({ fastestLapMs, ...others }: Calibration): Readonly<Record<string, number>> {
  return { version: VERSION, ...others, ...(fastestLapMs === null ? {} : { fastestLapMs }) };
}
