/**
 * How well a group's pace suits a spot, for the day's solver: whether the ladder's end draws the background out enough to look
 * quick; null where no speed is known: then all groups are alike. A convention of this program, 0.5 to 1: a slow group still makes pictures everywhere.
 */
import { type UnitInterval, unitIntervalOf } from '../../units.js';
import type { Aspect } from '../circuit/types.js';
import { LADDER_RULES, percentWords } from './ladder.js';
import type { SpotSettings } from './types.js';

/** Streak that is enough; head-on there is none to be had, and no pace is better than another. */
const ENOUGH: Readonly<Record<Aspect, number>> = {
  'side-on': LADDER_RULES.lookOfSpeed,
  'three-quarter': LADDER_RULES.lookOfSpeed * 0.4,
  'head-on': 0,
  'going-away': 0,
};
const LEAST = 0.5;

export const paceFit = (
  { ladder }: SpotSettings,
  aspect: Aspect,
): { readonly share: UnitInterval; readonly words: string } | null => {
  const end = ladder.rungs.find(({ shutter }) => shutter === ladder.end);
  if (ENOUGH[aspect] === 0) return { share: unitIntervalOf(1), words: 'any pace, head-on or going away' };
  if (end === undefined || end.streak === null) return null;
  const middle = (end.streak[0] + end.streak[1]) / 2;
  return {
    share: unitIntervalOf(Math.max(LEAST, middle / ENOUGH[aspect])),
    words: `streak ${percentWords(end.streak)} at ${end.shutter}`,
  };
};
