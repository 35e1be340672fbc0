/** Ranges of the ladder in words. */
import type { Range } from '../../core/plan/settings/types.js';

export function streakWords([low, high]: Range): string {
  const words = (share: number) => (share < 0.1 ? (share * 100).toFixed(1) : (share * 100).toFixed(0));
  return words(low) === words(high) ? `${words(low)} %` : `${words(low)}–${words(high)} %`;
}

/** `40–52 px`; one figure where both are the same. */
export function rangeWords([low, high]: Range, unit: string): string {
  const [from, to] = [low.toFixed(0), high.toFixed(0)];
  return from === to ? `${from}${unit}` : `${from}–${to}${unit}`;
}
