/** Which way a bike goes in its picture, from where it went during its pass; a camera that follows well leaves it untold. */
import type { Box } from '../../measure/types.js';
import type { EpochMs } from '../../units.js';
import type { Heading } from './types.js';

export interface PlaceThen {
  readonly at: EpochMs;
  readonly box: Box;
}

/** Shares of the picture's width in a second: a hand that follows wavers by less. */
const LEAST_SPEED = 0.15;

/** @param pass the bike in the frames of its pass, in time */
export function headingOf(pass: readonly PlaceThen[]): Heading {
  const [first, last] = [pass[0], pass.at(-1)];
  if (!first || !last || last.at <= first.at) return null;
  const middle = ({ box }: PlaceThen): number => box[0] + box[2] / 2;
  const speed = (1000 * (middle(last) - middle(first))) / (last.at - first.at);
  if (Math.abs(speed) < LEAST_SPEED) return null;
  return speed > 0 ? 'right' : 'left';
}
