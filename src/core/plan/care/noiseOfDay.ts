/**
 * What a day at the side of the track does to the ears. The level of one bike is a drive-by limit, not a measurement; how loud a
 * spot is over a session follows from distance, bikes out and lap (rule PL911).
 */
import {
  atDistance,
  behindProtector,
  DAILY_LIMITS_DB,
  dailyExposureDb,
  doseOf,
  type Exposure,
  levelOfPasses,
  minutesUntil,
} from '../../numeric/noise.js';
import { type Metres, type WallMs, wallMsOf } from '../../units.js';
import type { CareInput, CareStay, NoiseOfDay, NoiseOfStay, Protector, Span } from './types.js';

const MINUTE = 60_000;

/** A drive-by limit of one circuit, read in its published rules; another allows 95 dB at 30 m, which is 98.5 at 20 m. */
const DRIVE_BY = { atM: 20 as Metres, low: 84.5, likely: 87.5, high: 98.5 };
/** A hand-held reading of a bike or two against all that come by. No source. */
const READING_SPREAD_DB = 3;
/** How much more the C-weighted level is than the A-weighted one. No source: engines have low notes, tyres and wind few. */
const C_ABOVE_A = { low: 0, likely: 3, high: 6 };
/** Usual for a track-day group (common practice), and a middling lap; both only where nobody said. */
const USUAL_BIKES = 30;
const USUAL_LAP_S = 100;
/** Of bikes past a spot, about 110 km/h; half as fast is 3 dB more. */
const USUAL_SPEED_MPS = 30;
/** Below this at the ear one no longer hears marshals and horns well (HSE: over-protected). */
const HEARS_TOO_LITTLE_DB = 70;

type Case = keyof Span;
const CASES: readonly Case[] = ['low', 'likely', 'high'];
const spanOf = (figure: (one: Case) => number): Span => ({
  low: figure('low'),
  likely: figure('likely'),
  high: figure('high'),
});

export function noiseOfDay(input: CareInput): NoiseOfDay {
  const loud = input.stays.filter((stay) => stay.to > stay.from && stay.distanceM > 0 && stay.bikesOut !== 0);
  if (loud.length === 0)
    return { kind: 'no-stays', sentence: 'Noise is not known yet: no plan says where you stand while bikes are out.' };
  const stays = loud.map((stay) => noiseOfStay(stay, input));
  const bare = (one: Case) => stays.map((stay) => ({ levelDb: stay.bareDb[one], minutes: stay.minutes }));
  const heard = (one: Case) =>
    stays.map((stay) => ({ levelDb: (stay.atEarDb ?? stay.bareDb)[one], minutes: stay.minutes }));
  const bareDailyDb = spanOf((one) => dailyExposureDb(bare(one)));
  const atEarDailyDb = input.protector ? spanOf((one) => dailyExposureDb(heard(one))) : null;
  // The loudest case leaves the least time.
  const minutesLeft = {
    low: minutesLeftAfter(heard('high')),
    likely: minutesLeftAfter(heard('likely')),
    high: minutesLeftAfter(heard('low')),
  };
  return {
    kind: input.level ? 'from-a-reading' : 'guess',
    stays,
    bareDailyDb,
    atEarDailyDb,
    bareFullAt: fullAt(stays),
    minutesLeft,
    basis: basisOf(input),
    sentences: sentencesOf(bareDailyDb, atEarDailyDb, stays, input.protector),
  };
}

const oneBikeDb = (one: Case, distanceM: Metres, { level }: CareInput): number =>
  level === undefined
    ? atDistance(DRIVE_BY[one], DRIVE_BY.atM, distanceM)
    : atDistance(level.levelDb, level.atM, distanceM) + (CASES.indexOf(one) - 1) * READING_SPREAD_DB;

function noiseOfStay(stay: CareStay, input: CareInput): NoiseOfStay {
  const minutes = (stay.to - stay.from) / MINUTE;
  const lapS = input.lapMs === undefined ? USUAL_LAP_S : input.lapMs / 1000;
  const passes = ((stay.bikesOut ?? USUAL_BIKES) * minutes * 60) / lapS;
  const pass = { nearestM: stay.distanceM, speedMps: USUAL_SPEED_MPS, passes, minutes };
  const bareDb = spanOf((one) => levelOfPasses(oneBikeDb(one, stay.distanceM, input), pass));
  const barePercent = spanOf((one) => doseOf([{ levelDb: bareDb[one], minutes }]));
  const { protector } = input;
  const atEarDb = protector ? spanOf((one) => atEarOf(protector, bareDb[one], C_ABOVE_A[one])) : null;
  return { stay, minutes, bareDb, atEarDb, barePercent };
}

const atEarOf = (protector: Protector, aDb: number, cAboveA: number): number =>
  behindProtector(protector.rating, { aDb, cDb: aDb + cAboveA }).atWorkDb;

function minutesLeftAfter(exposures: readonly Exposure[]): number {
  const loudest = Math.max(...exposures.map(({ levelDb }) => levelDb));
  return minutesUntil(DAILY_LIMITS_DB.upperAction, loudest, exposures);
}

function fullAt(stays: readonly NoiseOfStay[]): WallMs | null {
  const before: Exposure[] = [];
  for (const { stay, bareDb, minutes } of stays) {
    const until = minutesUntil(DAILY_LIMITS_DB.upperAction, bareDb.likely, before);
    if (until < minutes) return wallMsOf(stay.from + until * MINUTE);
    before.push({ levelDb: bareDb.likely, minutes });
  }
  return null;
}

function basisOf({ level, stays, lapMs, protector }: CareInput): readonly string[] {
  const oneBike =
    level === undefined
      ? 'One bike: 87.5 dB(A) at 20 m, a drive-by limit of one circuit; up to 98.5 where another allows 95 at 30 m. Nobody measured here.'
      : `One bike: ${level.levelDb} dB(A) read at ${level.atM} m, give or take ${READING_SPREAD_DB}.`;
  return [
    oneBike,
    'Twice as far is 6 dB less for one bike, in the open; walls and tunnels make it louder. Static limits at the silencer are not used: full throttle is louder.',
    ...(stays.some(({ bikesOut }) => bikesOut === undefined) ? [`${USUAL_BIKES} bikes out where nobody said.`] : []),
    ...(lapMs === undefined ? [`A lap of ${USUAL_LAP_S} s, since none is said.`] : []),
    `Bikes at about ${Math.round(USUAL_SPEED_MPS * 3.6)} km/h; paddock, loudspeakers and the drive are left out.`,
    ...(protector ? ['Behind the protector: its tested figure less 4 dB for the real world (HSE).'] : []),
  ];
}

const whole = (value: number): string => String(Math.round(value));
const inWords = ({ low, likely, high }: Span): string => `${whole(likely)} dB (${whole(low)} to ${whole(high)})`;

function sentencesOf(
  bare: Span,
  atEar: Span | null,
  stays: readonly NoiseOfStay[],
  protector: Protector | undefined,
): readonly string[] {
  const { lowerAction, upperAction, limit } = DAILY_LIMITS_DB;
  const open = `Without protection this day is about ${inWords(bare)} as a daily exposure.`;
  if (bare.high < lowerAction) return [open, `That is below ${lowerAction}, from where on protection is advised.`];
  const wear =
    bare.likely >= upperAction
      ? `From ${upperAction} on protection is to be worn at work, and ${limit} at the ear is the limit: wear it whenever bikes are out.`
      : `From ${lowerAction} on protection is advised; the guess reaches past it, so wear it whenever bikes are out.`;
  if (atEar === null || protector === undefined)
    return [open, wear, 'Your protector is not said: write down its name and SNR, or H, M and L.'];
  const behind = `Behind ${protector.name} it is about ${inWords(atEar)}.`;
  const isTooLoud =
    atEar.high > upperAction ? ['It may still be too much: plugs under muffs, or stand further off.'] : [];
  const quietest = Math.min(...stays.map((stay) => stay.atEarDb?.likely ?? HEARS_TOO_LITTLE_DB));
  const isTooQuiet =
    quietest < HEARS_TOO_LITTLE_DB
      ? [`Below ${HEARS_TOO_LITTLE_DB} dB at the ear a marshal’s horn is easily missed: keep looking up.`]
      : [];
  return [open, wear, behind, ...isTooLoud, ...isTooQuiet];
}
