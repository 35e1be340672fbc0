/**
 * When the day's learning is logged: once all that was brought in is measured, and anew when a further fill is complete, or
 * when somebody says or takes back what riders are learnt with: the timetable, or a body's clock. Never in between, or
 * riders would change under somebody's hands.
 */
import { createHash } from 'node:crypto';
import type { FoldedLog } from '../../core/log/types.js';
import { calibrationOf, inForceOf } from './derive.js';

type Calibration = Readonly<Record<string, number>>;

/** Learn anew from the day as it stands; what was learnt is logged when it has been arranged so. */
const LEARN_ANEW: Calibration = {};

export const LEARNT_AGAIN = 'The timetable or a clock was changed, so the riders were worked out again with it.';

export interface CalibrationToLog {
  readonly calibration: Calibration;
  /** Something was said since the last learning; whoever watches is told. */
  readonly isForWords: boolean;
}

/**
 * What to log now that everything is measured and arranged; null for nothing.
 *
 * @param used what the arrangement used, learnt or logged; undefined where it used nothing.
 * @param files how many files the fills hold.
 */
export function calibrationToLog(
  log: FoldedLog,
  used: Calibration | undefined,
  files: number,
): CalibrationToLog | null {
  if (used === undefined || files === 0) return null;
  const logged = calibrationOf(log);
  const words = keyOfWords(log);
  if (Object.keys(logged).length === 0) return { calibration: { ...used, files, words }, isForWords: false };
  if (logged.files !== files) return { calibration: LEARN_ANEW, isForWords: false };
  return logged.words === words ? null : { calibration: LEARN_ANEW, isForWords: true };
}

/** A number that changes with what was said of clocks and the day, slips apart: a calibration holds numbers alone. */
function keyOfWords(log: FoldedLog): number {
  const clocks = log.inForce.flatMap(({ decision }) => (decision.kind === 'body-clock' ? [decision] : []));
  return createHash('sha256')
    .update(JSON.stringify([inForceOf(log)?.said ?? null, clocks]))
    .digest()
    .readUInt32BE(0);
}
