/**
 * When the day's learning is logged: once all that was brought in is measured, and anew when a further fill is complete.
 * Never in between, or riders would change under somebody's hands.
 */
import type { FoldedLog } from '../../core/log/types.js';

type Calibration = Readonly<Record<string, number>>;

/** Learn anew from the day as it stands; what was learnt is logged when it has been arranged so. */
const LEARN_ANEW: Calibration = {};

/**
 * What to log now that everything is measured and arranged; null for nothing.
 *
 * @param used what the arrangement used, learnt or logged; undefined where it used nothing.
 * @param files how many files the fills hold.
 */
export function calibrationToLog(log: FoldedLog, used: Calibration | undefined, files: number): Calibration | null {
  if (used === undefined || files === 0) return null;
  const last = log.inForce.findLast(({ decision }) => decision.kind === 'calibration')?.decision;
  const logged = last?.kind === 'calibration' ? last.calibration : LEARN_ANEW;
  if (Object.keys(logged).length === 0) return { ...used, files };
  return logged.files === files ? null : LEARN_ANEW;
}
