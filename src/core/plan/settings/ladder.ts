/**
 * The ladder of shutters of a spot and group. Start at the sure one; go down once the list for the session is done.
 *
 * Sure: a hand 1 % off the bike's pace and the bike's own depth, taken as independent, blur helmet and number by 2 pixels at
 * most in a picture as it is sold, 3,000 pixels wide, and practice for the view is no quicker. Down: as long as the streak
 * is under 40 % of the bike and practice for the view goes; below that nobody says that anything comes out. 1 %, 2 pixels
 * and 40 % are conventions of this program. A slower group has a smaller streak at a shutter, so its ladder begins and ends
 * at slower ones.
 */

import { type Mark, markOf, nearestMark, SHUTTERS } from '../../numeric/exposure.js';
import {
  type Crossing,
  FRONT_TYRE,
  followedBlurMm,
  panRateDegPerS,
  panStreakMm,
  secondsForStreak,
  streakShare,
  wheelTurnDeg,
} from '../../numeric/motion.js';
import type { SpotView } from '../circuit/types.js';
import { crossingDeg, workedDistanceM } from './framing.js';
import { LADDER_BOUNDS, SHUTTER_PRACTICE, SLOW_CHANCE, SLOW_CHANCE_FROM_S } from './practice.js';
import type { Framing, Ladder, Range, Rung, Sensor } from './types.js';

export const LADDER_RULES = {
  handOffBy: 0.01,
  sureBlurPx: 2,
  soldWidthPx: 3000,
  longestStreak: 0.4,
  /** A streak that reads as speed at a glance. */
  lookOfSpeed: 0.1,
} as const;

/** Quickest first; the ends of every practice range are among them. */
const RUNGS: readonly Mark[] = '1/2000 1/1000 1/640 1/500 1/320 1/250 1/160 1/125 1/80 1/60 1/30'
  .split(' ')
  .map((mark) => markOf(SHUTTERS, mark));

const SLOW_FROM_S = nearestMark(SHUTTERS, SLOW_CHANCE_FROM_S).exact;
const RAD = Math.PI / 180;

/** Speeds in m/s; null: not known, then practice alone stands. */
export const ladderOf = (view: SpotView, speedMs: Range | null, framing: Framing, sensor: Sensor): Ladder => {
  const effects = RUNGS.map((mark) => effectsOf(mark, view, speedMs, framing, sensor));
  const bounds = LADDER_BOUNDS[view.aspect];
  const startAt = indexOfStart(effects, bounds.slowestStart, sensor);
  const endAt = Math.max(startAt, indexOfEnd(effects, bounds.slowestEnd));
  const isPanned = isPannedAt(view);
  const rungs = effects.map((effect, i): Rung => {
    const kind = i <= startAt ? 'sure' : i <= endAt ? 'slow' : 'too-slow';
    const isSlowPan = view.aspect === 'side-on' && effect.seconds >= SLOW_FROM_S;
    return { ...effect, kind, chance: kind === 'slow' && isSlowPan ? SLOW_CHANCE : [] };
  });
  const [start, end] = [rungs[startAt]!, rungs[endAt]!];
  return {
    rungs,
    start: start.shutter,
    end: end.shutter,
    tenthAt: isPanned && speedMs !== null ? tenthOf(speedMs, bounds.slowestEnd) : null,
    practice: SHUTTER_PRACTICE[view.aspect],
    words: wordsOf(start, end, isPanned),
  };
};

/** The last one that is sure at the quickest of the speeds, and no slower than practice. */
const indexOfStart = (effects: readonly Effects[], slowest: number, { widthPx }: Sensor): number => {
  const most = (LADDER_RULES.sureBlurPx * widthPx) / LADDER_RULES.soldWidthPx;
  const isNoSlower = noSlowerThan(slowest);
  const isSure = ({ seconds, handBlurPx, ownBlurPx }: Effects) =>
    isNoSlower(seconds) && Math.hypot(handBlurPx?.[1] ?? 0, ownBlurPx?.[1] ?? 0) <= most;
  return Math.max(0, effects.findLastIndex(isSure));
};

const indexOfEnd = (effects: readonly Effects[], slowest: number): number => {
  const isNoSlower = noSlowerThan(slowest);
  return effects.findLastIndex(
    ({ seconds, streak }) => isNoSlower(seconds) && (streak?.[1] ?? 0) <= LADDER_RULES.longestStreak,
  );
};

/** Practice speaks of engraved marks: 1/160 is 1/161.3. */
const noSlowerThan = (practice: number): ((seconds: number) => boolean) => {
  const limit = nearestMark(SHUTTERS, practice).exact * 1.001;
  return (seconds) => seconds <= limit;
};

type Effects = Omit<Rung, 'kind' | 'chance'>;

const effectsOf = (
  { nominal, exact }: Mark,
  view: SpotView,
  speedMs: Range | null,
  { usedFocalMm }: Framing,
  sensor: Sensor,
): Effects => {
  const rangeOf = (effect: (speed: number) => number): Range | null =>
    speedMs === null ? null : [effect(speedMs[0]), effect(speedMs[1])];
  const pixels = sensor.widthPx / sensor.widthMm;
  const crossing = (speed: number): Crossing => crossingOf(view, speed);
  return {
    shutter: nominal,
    seconds: exact,
    streak: rangeOf((speed) => streakShare(speed, exact) * endOnShare(view)),
    wheelDeg: rangeOf((speed) => wheelTurnDeg(FRONT_TYRE, speed, exact)),
    handBlurPx: rangeOf(
      (speed) => panStreakMm(panRateDegPerS(crossing(speed)), usedFocalMm, exact) * LADDER_RULES.handOffBy * pixels,
    ),
    ownBlurPx: rangeOf((speed) => ownBlurMm(crossing(speed), usedFocalMm, exact) * pixels),
  };
};

/**
 * As share of the bike's length as it is seen, the angle falls out (PL331): bike and background foreshorten alike. Head-on no
 * length is seen; there it is the share of the true one, which goes to nothing.
 */
const endOnShare = (view: SpotView): number => (isPannedAt(view) ? 1 : Math.abs(Math.sin(crossingDeg(view) * RAD)));

const isPannedAt = ({ aspect }: SpotView): boolean => aspect === 'side-on' || aspect === 'three-quarter';

export const crossingOf = (view: SpotView, speedMs: number): Crossing => ({
  speedMs,
  distanceM: workedDistanceM(view),
  crossingDeg: crossingDeg(view),
});

/** From the helmet to where a number stands, along the bike and to its sides; own convention. */
const NUMBER_FORWARD_M = 0.7;
const NUMBER_ACROSS_M = 0.25;

/** The most that numbers blur when the helmet is followed. Nose and tail may be softer. */
const ownBlurMm = (crossing: Crossing, focalMm: number, seconds: number): number =>
  Math.max(
    ...[-NUMBER_ACROSS_M, NUMBER_ACROSS_M].map((acrossM) =>
      followedBlurMm(crossing, { forwardM: NUMBER_FORWARD_M, acrossM }, focalMm, seconds),
    ),
  );

/** Null where practice does not go so slow. */
const tenthOf = ([low, high]: Range, slowest: number): string | null => {
  const mark = nearestMark(SHUTTERS, secondsForStreak(LADDER_RULES.lookOfSpeed, (low + high) / 2));
  return noSlowerThan(slowest)(mark.exact) ? mark.nominal : null;
};

const wordsOf = (start: Rung, end: Rung, isPanned: boolean): readonly string[] => [
  `Start at ${start.shutter}: sure${start.streak === null || !isPanned ? '' : `, streak ${percentWords(start.streak)}`}.`,
  end === start
    ? isPanned
      ? 'Slower is not worth while here.'
      : 'Slower gains nothing: head-on only the wheels turn further.'
    : `Down to ${end.shutter}${end.streak === null || end.wheelDeg === null ? '' : `: streak ${percentWords(end.streak)}, wheels turn ${wholeWords(end.wheelDeg, '°')}`}.`,
  ...end.chance.map(
    ({ range, basis, says }) =>
      `${percentWords(range)} come out: ${basis === 'published' ? 'published' : 'common practice'}, ${says}.`,
  ),
];

export const percentWords = ([low, high]: Range): string => wholeWords([low * 100, high * 100], ' %');

const wholeWords = ([low, high]: Range, unit: string): string => {
  const [from, to] = [Math.round(low), Math.round(high)];
  return from === to ? `${from}${unit}` : `${from}–${to}${unit}`;
};

/** One spot's ladders side by side: a row for each shutter that is on any of them, a cell for each group. */
export const ladderTable = (
  columns: readonly { readonly group: string; readonly ladder: Ladder }[],
): readonly { readonly shutter: string; readonly cells: readonly (Rung & { readonly group: string })[] }[] => {
  const firstOf = ({ ladder }: (typeof columns)[number]) => RUNGS.findIndex(({ nominal }) => nominal === ladder.start);
  const lastOf = ({ ladder }: (typeof columns)[number]) => RUNGS.findIndex(({ nominal }) => nominal === ladder.end);
  const from = Math.min(...columns.map(firstOf));
  const to = Math.max(...columns.map(lastOf));
  return RUNGS.slice(from, to + 1).map(({ nominal }, i) => ({
    shutter: nominal,
    cells: columns.map(({ group, ladder }) => ({ group, ...ladder.rungs[from + i]! })),
  }));
};
