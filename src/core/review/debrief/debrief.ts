/** What worked in a meeting: rules RE1–RE11 in docs/rules/review.md. Pure; made again whenever anything is said or measured. */
import type { Keepers } from '../../choose/types.js';
import type { Stand, TimetableSlot } from '../../plan/types.js';
import { focusLean } from '../kit/focusLean.js';
import { howLow } from '../kit/howLow.js';
import { judgedBikes, type KitInput } from '../kit/judgedBikes.js';
import { shimmerOfDay } from '../kit/shimmerOfDay.js';
import { asPlanned, type PlanTaken } from './asPlanned.js';
import { compareShutters, evidenceOf } from './compareRates.js';
import { hitRate, hitRatesBy, hitRatesByHour } from './hitRates.js';
import { spotYields } from './spotYields.js';
import { triesOf } from './tries.js';
import type { Debrief } from './types.js';

export interface DebriefInput extends KitInput {
  readonly stands: readonly Stand[];
  readonly keepers: Keepers;
  /** Of the timetable as it stands; none where there is none. */
  readonly slots: readonly TimetableSlot[];
  /** Null: none was taken. */
  readonly plan: PlanTaken | null;
}

export function debrief(input: DebriefInput): Debrief {
  const { arrangement, stands, keepers, slots, plan, spotName } = input;
  const { tries, unsure } = triesOf(input);
  const bikes = judgedBikes(input);
  const crossed = hitRatesBy(tries, ['spot', 'group', 'focalMm', 'shutterS']);
  const names = { spot: spotName };
  const compared = compareShutters(crossed, names);
  const spots = spotYields(arrangement, stands, tries, keepers, slots);
  const planned = plan === null ? null : asPlanned(arrangement, stands, tries, plan);
  return {
    exposures: arrangement.exposures.length,
    withBike: arrangement.exposures.filter(({ role }) => role === 'bike').length,
    unsure,
    keepers: [...keepers.byRider.values()].reduce((sum, own) => sum + own.length, 0),
    all: hitRate(tries, {}),
    byShutter: hitRatesBy(tries, ['shutterS']),
    bySpot: hitRatesBy(tries, ['spot']),
    byGroup: hitRatesBy(tries, ['group']),
    byFocalLength: hitRatesBy(tries, ['focalMm']),
    byShutterAtSpot: hitRatesBy(tries, ['spot', 'shutterS']),
    crossed,
    byHour: hitRatesByHour(tries),
    howLow: howLow(bikes, spotName),
    focus: focusLean(bikes),
    shimmer: shimmerOfDay(bikes),
    spots,
    asPlanned: planned,
    compared,
    evidence: evidenceOf(crossed, compared, spots, planned, names),
  };
}
