/**
 * How fast one body's clock runs away from another's: rules PL830, PL831. An offset is found by arranging; this is its change through the day.
 *
 * Surest are the clock cards a body was shown: what the card said less what the body recorded, at two hours or more. Else dividers that two
 * bodies took on one call, a few seconds apart: the hand's delay is as large early as late, so it cancels in the slope.
 */
import type { Arrangement, Exposure } from '../../arrange/types.js';
import type { BodyKey, FrameId } from '../../ids.js';
import type { FrameMeasurement } from '../../measure/types.js';
import { type Trend, type TrendPoint, theilSen } from '../../numeric/theilSen.js';
import { bodyName } from './dustWords.js';
import { groupedBy } from './judgedBikes.js';
import type { ClockDrift } from './types.js';

const HOUR_MS = 3_600_000;
/** Further apart, two dividers were not taken on one call. */
const ONE_CALL_MS = 15_000;
const LEAST_PAIRS = 8;
const LEAST_HOURS = 2;
/** A card stands for a second, and bodies record whole seconds. */
const CARD_ERROR_S = 1;
/** Less in a whole day changes no order of frames. */
const WORTH_SAYING_S_AN_HOUR = 0.2;

interface Noted extends TrendPoint {
  readonly frames: readonly FrameId[];
}

export function clockDrifts(
  arrangement: Arrangement,
  pixels: ReadonlyMap<FrameId, FrameMeasurement>,
): readonly ClockDrift[] {
  const bodies = [...groupedBy(arrangement.exposures, ({ body }) => body)].map(([, frames]) => ({
    body: frames[0]!.body,
    frames,
  }));
  const byCards = bodies.flatMap(({ body, frames }) => {
    const trend = cardTrend(cardsOf(frames, pixels));
    return trend === null ? [] : [recordOf(body, null, trend)];
  });
  const told = new Set(byCards.map(({ body }) => body));
  const [reference, ...others] = [...bodies].sort((a, b) => dividersOf(b.frames).length - dividersOf(a.frames).length);
  if (reference === undefined) return byCards;
  const byDividers = others
    .filter(({ body }) => !told.has(body))
    .flatMap(({ body, frames }) => {
      const noted = pairsOf(dividersOf(reference.frames), dividersOf(frames));
      const trend = noted.length < LEAST_PAIRS || hoursOf(noted) < LEAST_HOURS ? null : theilSen([noted]);
      return trend === null ? [] : [recordOf(body, reference.body, { trend, noted })];
    });
  return [...byCards, ...byDividers];
}

interface TrendOf {
  readonly trend: Trend;
  readonly noted: readonly Noted[];
}

/** Seconds that the body is ahead of the card, by the hour; constants such as the zone cancel in the slope. */
function cardsOf(frames: readonly Exposure[], pixels: ReadonlyMap<FrameId, FrameMeasurement>): readonly Noted[] {
  return frames.flatMap(({ frameId, recorded }) => {
    const measured = pixels.get(frameId);
    if (typeof recorded !== 'number' || measured?.kind !== 'measured') return [];
    return (measured.cards ?? []).flatMap((card) =>
      card.kind === 'clock-card'
        ? [{ x: recorded / HOUR_MS, y: (recorded - card.shownAt) / 1000, frames: [frameId] }]
        : [],
    );
  });
}

/** Two cards are enough: what either may be out by is known. */
function cardTrend(noted: readonly Noted[]): TrendOf | null {
  const hours = hoursOf(noted);
  const trend = hours < LEAST_HOURS ? null : theilSen([noted]);
  if (trend === null) return null;
  const error = (2 * CARD_ERROR_S) / hours;
  return { noted, trend: { ...trend, from: trend.slope - error, to: trend.slope + error } };
}

const dividersOf = (frames: readonly Exposure[]): readonly Exposure[] =>
  frames.filter(({ role, wall, recorded }) => role === 'divider' && wall !== null && typeof recorded === 'number');

/** Each divider of the other body with the nearest of the reference; by corrected time, so that an hour's offset hides none. */
function pairsOf(reference: readonly Exposure[], other: readonly Exposure[]): readonly Noted[] {
  const pairs = other.flatMap((one) => {
    const nearest = reference.reduce<Exposure | null>((best, candidate) => nearer(best, candidate, one), null);
    if (nearest === null || apartMs(nearest, one) > ONE_CALL_MS) return [];
    return [
      {
        x: one.wall! / HOUR_MS,
        y: (Number(one.recorded) - Number(nearest.recorded)) / 1000,
        call: nearest.frameId,
        frames: [nearest.frameId, one.frameId],
      },
    ];
  });
  // Several of sky on one call are one meeting of the two clocks.
  return [...groupedBy(pairs, ({ call }) => call).values()].map(([first]) => first!);
}

const apartMs = (a: Exposure, b: Exposure): number => Math.abs(a.wall! - b.wall!);
const nearer = (best: Exposure | null, candidate: Exposure, to: Exposure): Exposure =>
  best === null || apartMs(candidate, to) < apartMs(best, to) ? candidate : best;

function hoursOf(noted: readonly Noted[]): number {
  if (noted.length === 0) return 0;
  const times = noted.map(({ x }) => x);
  return Math.max(...times) - Math.min(...times);
}

function recordOf(body: BodyKey, against: BodyKey | null, { trend, noted }: TrendOf): ClockDrift {
  const inTime = [...noted].sort((a, b) => a.x - b.x);
  const range = `(${seconds(trend.from)} to ${seconds(trend.to)} s to be expected)`;
  const by = against === null ? 'its clock cards' : bodyName(against);
  const isDrifting = trend.from > 0 || trend.to < 0;
  const isWorthSaying = isDrifting && Math.abs(trend.slope) >= WORTH_SAYING_S_AN_HOUR;
  const how = `${trend.slope < 0 ? 'loses' : 'gains'} ${Math.abs(trend.slope).toFixed(1)} s an hour ${range}`;
  const what = isWorthSaying
    ? `${how} against ${by}`
    : `keeps time with ${by} ${range.replace(' s to', ' s an hour to')}`;
  return {
    kind: 'measurement',
    body,
    against,
    drift: trend,
    evidence: [inTime[0]!, inTime.at(-1)!].flatMap(({ frames }) => frames.map((frameId) => ({ frameId, look: null }))),
    sentence: `${bodyName(body)} ${what}, over ${trend.points} ${against === null ? 'cards' : 'dividers of both'}.`,
  };
}

const seconds = (value: number): string => `${value < 0 ? '−' : value > 0 ? '+' : ''}${Math.abs(value).toFixed(1)}`;
