/** Words of what worked that screens and paper share: what was counted, never what to do. */
import type { Debrief, SpotYield, StayAsHappened } from './types.js';

const percent = (share: number): number => Math.round(100 * share);
const figures = (count: number): string => count.toLocaleString('en-GB');
const counted = (count: number, one: string): string => `${figures(count)} ${count === 1 ? one : `${one}s`}`;

/** The sentence that everything opens with. */
export function howThingsStand({ all }: Pick<Debrief, 'all'>): string {
  if (all === null) return 'No bike was judged yet, so nothing can be said of what worked.';
  const { bikes, hits, share, isFew } = all;
  const few = isFew ? ' So few passes tell little.' : '';
  return `Of ${counted(bikes, 'bike')} in the frames ${figures(hits)} came out sharp and whole: ${percent(share.share)} in 100, and ${percent(share.from)} to ${percent(share.to)} by their range.${few}`;
}

/** What it was counted of. */
export function countedOf({
  exposures,
  withBike,
  keepers,
  unsure,
}: Pick<Debrief, 'exposures' | 'withBike' | 'keepers' | 'unsure'>): string {
  if (exposures === 0) return 'No frame is here yet.';
  const bikes = withBike === 0 ? 'none' : figures(withBike);
  const kept = keepers === 0 ? 'no keeper' : counted(keepers, 'keeper');
  const frames = `${counted(exposures, 'frame')}, ${bikes} of them with a bike; ${kept}.`;
  if (unsure === 0) return frames;
  return `${frames} ${counted(unsure, 'bike')} could not be judged and ${unsure === 1 ? 'stands' : 'stand'} in no rate.`;
}

/** Where a spot gave nothing, that is what was counted: said in words. */
export function gaveWords({ keepers, hits, riders, sessions }: SpotYield): string {
  const where = `in ${counted(sessions, 'session')}`;
  if (hits === 0) return `no bike sharp and whole ${where}`;
  const kept = keepers === 0 ? 'no keeper' : counted(keepers, 'keeper');
  return `${kept} of ${counted(hits, 'bike')} sharp and whole, ${counted(riders, 'rider')}, ${where}`;
}

export const WENT: Readonly<Record<StayAsHappened['is'], string>> = {
  'as-planned': 'as planned',
  elsewhere: 'elsewhere',
  'not-gone': 'not gone to',
  'not-planned': 'not in the plan',
};
