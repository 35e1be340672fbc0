/**
 * Days for tuning and days for reporting are kept apart: whoever tunes anything uses the first, and figures are of the second
 * alone. Nothing is ever tuned on a reported seed.
 */
export const SEEDS = {
  /** Simulated days anybody may look at while tuning. */
  tuning: [1, 2, 3, 4, 5, 6, 7, 8, 9],
  /** Simulated days that figures are of. */
  reported: [100, 101, 102, 103, 104],
  /** Rendered days that figures are of; the committed meeting and every other seed may be tuned on. */
  rendered: [201, 202],
  /** Riders in fluorescent paint that figures are of; 11 and 12 were tuned on. */
  fluorescent: [301, 302],
} as const;
