/** Shutters of one spot, group and lens beside each other, and what the day shows by it: rules RE7–RE9. */
import { shutterName } from '../../numeric/exposure.js';
import { differenceOf, isApart } from '../../numeric/shareDifference.js';
import { groupedBy, percent } from '../kit/judgedBikes.js';
import { FEW_PASSES } from './hitRates.js';
import type { Compared, Evidence, HitRate, SpotYield, StayAsHappened, Taken } from './types.js';

/** A shutter holds where at least so many come out sharp and whole, by the lower end of the range (as the kit's records have it). */
const HOLDS_FROM = 0.5;

/** How things are called in sentences. */
export interface Names {
  readonly spot: (spot: NonNullable<Taken['spot']>) => string;
}

/** Neighbouring shutters of one spot, group and focal length, with enough passes of both. */
export function compareShutters(crossed: readonly HitRate[], names: Names): readonly Compared[] {
  const told = crossed.filter(({ passes }) => passes >= FEW_PASSES);
  return [...groupedBy(told, ({ of }) => placeKey(of)).values()].flatMap((rates) => {
    const quickFirst = [...rates].sort((a, b) => a.of.shutterS! - b.of.shutterS!);
    return quickFirst.slice(1).map((slower, i) => comparedOf(quickFirst[i]!, slower, names));
  });
}

const placeKey = ({ spot, group, focalMm }: Taken): string => JSON.stringify([spot, group, focalMm]);

function comparedOf(quicker: HitRate, slower: HitRate, names: Names): Compared {
  const difference = differenceOf(slower.share, quicker.share);
  const { shutterS: _, ...of } = slower.of;
  return {
    kind: 'measurement',
    of,
    quicker,
    slower,
    difference,
    isApart: isApart(difference),
    sentence: `${placeWords(of, names)}: ${rateWords(quicker)}; ${rateWords(slower)}. ${saysWhat(difference)}`,
  };
}

function saysWhat(difference: Compared['difference']): string {
  if (!isApart(difference)) return 'So few passes do not tell the two apart.';
  return difference.difference < 0 ? 'The slower one missed more.' : 'The slower one missed less.';
}

export const placeWords = ({ spot, group, focalMm }: Taken, names: Names): string =>
  [spot && names.spot(spot), group, focalMm && `about ${focalMm} mm`].filter(Boolean).join(', ');

const rateWords = ({ of, hits, bikes, share }: HitRate): string =>
  `${shutterName(of.shutterS!)}, ${hits} of ${bikes} (${percent(share.from)}–${percent(share.to)} %)`;

/** What to look at before the next meeting, as what was seen: nobody is told to ride or to do anything. */
export function evidenceOf(
  crossed: readonly HitRate[],
  compared: readonly Compared[],
  spots: readonly SpotYield[],
  planned: readonly StayAsHappened[] | null,
  names: Names,
): readonly Evidence[] {
  return [
    ...compared.flatMap(({ isApart: apart, difference, sentence }): readonly Evidence[] =>
      apart && difference.difference < 0 ? [{ is: 'slower-missed', sentence }] : [],
    ),
    ...untriedBelow(crossed, names),
    ...spotsApart(spots, names),
    ...notGoneTo(planned),
  ];
}

/** Where the slowest shutter that was tried still held: nothing slower is known of it. */
function untriedBelow(crossed: readonly HitRate[], names: Names): readonly Evidence[] {
  return [...groupedBy(crossed, ({ of }) => placeKey(of)).values()].flatMap((rates): readonly Evidence[] => {
    const slowest = rates.reduce((a, b) => (b.of.shutterS! > a.of.shutterS! ? b : a));
    if (slowest.isFew || slowest.share.from < HOLDS_FROM) return [];
    const { shutterS: _, ...of } = slowest.of;
    return [
      {
        is: 'slower-untried',
        sentence: `${placeWords(of, names)}: ${rateWords(slowest)} held, and nothing slower was tried there.`,
      },
    ];
  });
}

/** The best and the least, where their ranges do not meet. */
function spotsApart(spots: readonly SpotYield[], names: Names): readonly Evidence[] {
  const rated = spots.filter(({ keepersAMinute }) => keepersAMinute !== null);
  const [best, least] = [rated[0], rated.at(-1)];
  if (best?.keepersAMinute == null || least?.keepersAMinute == null) return [];
  if (best.keepersAMinute.from <= least.keepersAMinute.to) return [];
  const words = ({ spot, keepers, minutes }: SpotYield) =>
    `${names.spot(spot)} gave ${keepers} ${keepers === 1 ? 'keeper' : 'keepers'} in ${Math.round(minutes)} min`;
  return [{ is: 'spots-apart', sentence: `${words(best)}, ${words(least)}.` }];
}

function notGoneTo(planned: readonly StayAsHappened[] | null): readonly Evidence[] {
  const missed = (planned ?? []).filter(({ is }) => is === 'not-gone' || is === 'elsewhere');
  if (missed.length === 0) return [];
  const all = planned!.filter(({ is }) => is !== 'not-planned').length;
  return [
    {
      is: 'not-gone',
      sentence: `Of ${all} planned sessions ${missed.length} went otherwise: ${missed.map(({ session }) => session).join(', ')}.`,
    },
  ];
}
