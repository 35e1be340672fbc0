/** What worked, as the sheet shows it: counts with their ranges, in words that say what was seen and never what to do. */
import {
  countedOf,
  type Debrief,
  gaveWords,
  type HourRate,
  howThingsStand,
  type SpotYield,
  type StayAsHappened,
  WENT,
} from '../../core/review/debrief/index.js';
import type { ShimmerTrend } from '../../core/review/kit/index.js';
import type { DebriefOfDay } from '../../host/review/index.js';
import type { Spoken } from '../types.js';
import type { Known } from '../views/known.js';
import { clockOf, dateOf } from '../views/wallTime.js';
import { capital, counted } from '../views/words.js';
import { bikesIn, evidenceView, labelOf, numberedSpot, ratesView, rateView, withoutWords } from './rateView.js';
import type { PlannedView, RatesView, RateView, ReviewView, ShimmerView, SpotRatesView, YieldView } from './types.js';

export function reviewView(known: Known, { debrief }: DebriefOfDay, kept: ReviewView['kept']): ReviewView {
  const all = debrief.all?.bikes ?? 0;
  const shown = ({ sentence, evidence }: Debrief['focus'][number] | Debrief['howLow'][number]) => ({
    sentence: capital(sentence),
    evidence: evidence.map((frame) => evidenceView(known, frame)),
  });
  return {
    asOf: known.state.asOf,
    headline: howThingsStand(debrief),
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
    shimmer: debrief.shimmer.map((trend) => shimmerView(known, trend, debrief.byHour)),
    spots: debrief.all === null ? [] : debrief.spots.map((spot) => yieldView(known, spot)),
    asPlanned: debrief.asPlanned?.map((stay) => plannedView(known, stay)) ?? null,
    focus: debrief.focus.map(shown),
    howLow: debrief.howLow.map(shown),
    compared: debrief.compared.map(({ sentence }) => capital(sentence)),
    kept,
  };
}

function leadOf({ state }: Known, debrief: Debrief): string {
  const { left } = state.toMeasure;
  const unmeasured = left === 0 ? '' : ` ${counted(left, 'frame')} ${left === 1 ? 'is' : 'are'} not measured yet.`;
  return `${countedOf(debrief)}${unmeasured} A range holds the truth 95 times in 100.`;
}

function shuttersAtSpots(known: Known, { byShutterAtSpot }: Debrief): readonly SpotRatesView[] {
  const panels = new Map<string, RateView[]>();
  for (const rate of byShutterAtSpot) {
    const { spot, ...of } = rate.of;
    if (spot === undefined) continue;
    const name = numberedSpot(known, spot);
    panels.set(name, [...(panels.get(name) ?? []), rateView(known, rate, labelOf(known, of))]);
  }
  return [...panels]
    .map(([spot, rows]) => ({ spot, rows }))
    .sort((a, b) => a.spot.localeCompare(b.spot, 'en', { numeric: true }));
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

function shimmerView(known: Known, trend: ShimmerTrend, byHour: readonly HourRate[]): ShimmerView {
  const { far, near, evidence } = trend;
  // A trend is of judged bikes with a time, so there is an hour.
  const [first, last] = [byHour[0]!.hour, byHour.at(-1)!.hour];
  const anHour = ({ slope, from, to }: ShimmerTrend['far']) => ({
    factor: Math.exp(slope),
    from: Math.exp(from),
    to: Math.exp(to),
  });
  return {
    sentence: trend.sentence,
    hours: (last - first) / HOUR_MS,
    first: clockOf(first),
    last: clockOf(last),
    far: anHour(far),
    near: near && anHour(near),
    evidence: evidence.map((frame) => evidenceView(known, frame)),
  };
}

function yieldView(known: Known, spot: SpotYield): YieldView {
  return {
    spot: numberedSpot(known, spot.spot),
    words: gaveWords(spot),
    minutes: minutesOf(known, spot),
    aMinute: spot.keepersAMinute,
  };
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

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;

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
