/** What worked, as the sheet shows it: counts with their ranges, in words that say what was seen and never what to do. */
import type { Debrief, HourRate, SpotYield, StayAsHappened } from '../../core/review/debrief/index.js';
import type { ShimmerTrend } from '../../core/review/kit/index.js';
import type { DebriefOfDay } from '../../host/review/index.js';
import type { Spoken } from '../types.js';
import type { Known } from '../views/known.js';
import { clockOf, dateOf } from '../views/wallTime.js';
import { capital, counted } from '../views/words.js';
import { bikesIn, evidenceView, numberedSpot, ratesView, rateView, withoutWords } from './rateView.js';
import type { PlannedView, RatesView, RateView, ReviewView, ShimmerView, SpotRatesView, YieldView } from './types.js';

export function reviewView(known: Known, { meeting, debrief }: DebriefOfDay, kept: ReviewView['kept']): ReviewView {
  const all = debrief.all?.bikes ?? 0;
  const shown = ({ sentence, evidence }: Debrief['focus'][number] | Debrief['howLow'][number]) => ({
    sentence: capital(sentence),
    evidence: evidence.map((frame) => evidenceView(known, frame)),
  });
  return {
    asOf: known.state.asOf,
    meeting: meeting.name,
    headline: headlineOf(debrief),
    lead: leadOf(known, debrief),
    shows: debrief.evidence.map(({ sentence }) => capital(sentence)),
    hasRates: debrief.all !== null,
    shutters: shuttersAtSpots(known, debrief),
    shuttersWithout: withoutWords(all - bikesIn(debrief.byShutterAtSpot), 'the spot or the shutter is'),
    tables: [
      ratesView(known, 'By spot', debrief.bySpot, { all, what: 'the spot is' }),
      ratesView(known, 'By group', debrief.byGroup, { all, what: 'the group is' }),
      ratesView(known, 'By focal length', debrief.byFocalLength, { all, what: 'the focal length is' }),
    ],
    byHour: byHourView(known, debrief.byHour, all),
    shimmer: debrief.shimmer.map((trend) => shimmerView(known, trend)),
    spots: debrief.all === null ? [] : debrief.spots.map((spot) => yieldView(known, spot)),
    asPlanned: debrief.asPlanned?.map((stay) => plannedView(known, stay)) ?? null,
    focus: debrief.focus.map(shown),
    howLow: debrief.howLow.map(shown),
    compared: debrief.compared.map(({ sentence }) => capital(sentence)),
    kept,
  };
}

const percent = (share: number): number => Math.round(100 * share);

function headlineOf({ all }: Debrief): string {
  if (all === null) return 'No bike was judged yet, so nothing can be said of what worked.';
  const { bikes, hits, share, isFew } = all;
  const few = isFew ? ' So few passes tell little.' : '';
  return `Of ${counted(bikes, 'bike')} in the frames ${hits.toLocaleString('en-GB')} came out sharp and whole: ${percent(share.share)} in 100, and ${percent(share.from)} to ${percent(share.to)} by their range.${few}`;
}

function leadOf({ state }: Known, { exposures, withBike, keepers, unsure }: Debrief): string {
  const { left } = state.toMeasure;
  return [
    `${counted(exposures, 'frame')}, ${withBike.toLocaleString('en-GB')} of them with a bike; ${counted(keepers, 'keeper')}.`,
    unsure === 0
      ? ''
      : `${counted(unsure, 'bike')} could not be judged and ${unsure === 1 ? 'stands' : 'stand'} in no rate.`,
    left === 0 ? '' : `${counted(left, 'frame')} ${left === 1 ? 'is' : 'are'} not measured yet.`,
    'A range holds the truth 95 times in 100.',
  ]
    .filter((part) => part !== '')
    .join(' ');
}

function shuttersAtSpots(known: Known, { byShutterAtSpot }: Debrief): readonly SpotRatesView[] {
  const panels = new Map<string, RateView[]>();
  for (const rate of byShutterAtSpot) {
    const { spot, ...of } = rate.of;
    if (spot === undefined) continue;
    const name = numberedSpot(known, spot);
    const { rows } = ratesView(known, name, [{ ...rate, of }], { all: 0, what: '' });
    panels.set(name, [...(panels.get(name) ?? []), ...rows]);
  }
  return [...panels].map(([spot, rows]) => ({ spot, rows })).sort((a, b) => a.spot.localeCompare(b.spot, 'en'));
}

function byHourView(known: Known, rates: readonly HourRate[], all: number): RatesView {
  const isOneDay = new Set(rates.map(({ hour }) => dateOf(hour))).size < 2;
  return {
    title: 'By the hour',
    rows: rates.map((rate) =>
      rateView(known, rate, isOneDay ? clockOf(rate.hour) : `${dateOf(rate.hour).slice(5)} ${clockOf(rate.hour)}`),
    ),
    without: withoutWords(all - bikesIn(rates), 'the time is'),
  };
}

const POINTS: Readonly<Record<ShimmerTrend['points'], string>> = {
  'to the air': 'Near ones fell less: it points to the air.',
  'not to the air alone': 'Near ones fell as well: not the air alone.',
  'to air or focus': 'Too few near ones to tell air from focus.',
  'to nothing': 'No growing shimmer shows.',
};

function shimmerView(known: Known, { far, near, points, evidence }: ShimmerTrend): ShimmerView {
  const anHour = ({ slope, from, to }: ShimmerTrend['far']) => ({
    factor: Math.exp(slope),
    from: Math.exp(from),
    to: Math.exp(to),
  });
  return {
    sentence: `Sharpness of far bikes went by ${changeWords(far)} an hour, over ${counted(far.points, 'pass', 'passes')}. ${POINTS[points]}`,
    far: anHour(far),
    near: near && anHour(near),
    evidence: evidence.map((frame) => evidenceView(known, frame)),
  };
}

/** The slope is of the logarithm. */
function changeWords({ slope, from, to }: ShimmerTrend['far']): string {
  const [middle, least, most] = [slope, from, to].map((one) => signed(percent(Math.exp(one) - 1)));
  return `${middle} % (${least} to ${most} %)`;
}

const signed = (value: number): string => (value < 0 ? `−${-value}` : value > 0 ? `+${value}` : '0');

function yieldView(known: Known, spot: SpotYield): YieldView {
  return {
    spot: numberedSpot(known, spot.spot),
    words: gaveWords(spot),
    minutes: minutesOf(known, spot),
    aMinute: spot.keepersAMinute,
  };
}

/** Where a spot gave nothing, that is what was counted: said in words. */
function gaveWords({ keepers, hits, riders, sessions }: SpotYield): string {
  const where = `in ${counted(sessions, 'session')}`;
  if (hits === 0) return `no bike sharp and whole ${where}`;
  const kept = keepers === 0 ? 'no keeper' : counted(keepers, 'keeper');
  return `${kept} of ${counted(hits, 'bike')} sharp and whole, ${counted(riders, 'rider')}, ${where}`;
}

function minutesOf({ initials }: Known, { minutes, minutesFrom }: SpotYield): Spoken {
  const length = minutes < 1 ? 'less than a minute' : `${Math.round(minutes)} min`;
  switch (minutesFrom) {
    case 'said':
      return { voice: 'initialled', text: length, initials };
    case 'frames':
      return { voice: 'printed', text: `${length} from first frame to last, perhaps more` };
    case 'both':
      return { voice: 'printed', text: `${length}, partly said, partly from first frame to last` };
  }
}

const WENT: Readonly<Record<StayAsHappened['is'], string>> = {
  'as-planned': 'as planned',
  elsewhere: 'elsewhere',
  'not-gone': 'not gone to',
  'not-planned': 'not in the plan',
};
const MINUTE_MS = 60_000;

function plannedView(known: Known, { session, group, planned, stood, is, hits, movedMs }: StayAsHappened): PlannedView {
  const minutes = Math.round((movedMs ?? 0) / MINUTE_MS);
  return {
    session,
    group: known.groupByKey.get(group ?? '') ?? null,
    planned: planned.map((spot) => numberedSpot(known, spot)),
    stood: stood.map((spot) => numberedSpot(known, spot)),
    went: WENT[is],
    is,
    hits,
    moved: minutes === 0 ? null : `${Math.abs(minutes)} min ${minutes > 0 ? 'later' : 'earlier'}`,
  };
}
