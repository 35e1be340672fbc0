/**
 * Noise at work: how much of a day's share of noise a stay costs, and what a protector leaves of it.
 *
 * Sources: the Control of Noise at Work Regulations 2005 (UK), schedule 1, and HSE guidance L108 (daily exposure L_EP,d,
 * points, 4 dB for the real world); Directive 2003/10/EC, article 3 (the same figures for the EU, peaks as pressures); NIOSH,
 * "Criteria for a Recommended Standard: Occupational Noise Exposure", publication 98-126 (1998), section 1.1; ISO 4869-2:2018
 * (SNR and HML). Left out: octave bands, and what impulses do beyond their energy. Levels are A-weighted, in dB re 20 µPa,
 * where the name does not say C; the distance law holds for one small source over open ground, so walls and crowds of bikes
 * make it louder. Valid for steady levels from 70 to 130 dB; the arithmetic is exact, what goes in is not.
 */
export interface Exposure {
  readonly levelDb: number;
  readonly minutes: number;
}

/** Of the UK regulations and the directive, as daily exposures; the limit holds at the ear, behind the protector. */
export const DAILY_LIMITS_DB = { lowerAction: 80, upperAction: 85, limit: 87 } as const;

const WORKING_DAY_MINUTES = 480;
/** The level that, for a working day, is 100 points or a dose of 100 %. */
const CRITERION_DB = 85;
/** HSE L108: protectors do this much worse at work than in the laboratory. */
const REAL_WORLD_DB = 4;

const energyOf = (levelDb: number): number => 10 ** (levelDb / 10);
const levelOf = (energy: number): number => 10 * Math.log10(energy);
const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

/** L_EP,d: the level that, eight hours long, is as much as all of these. Of nothing it is −Infinity, so ask only of something. */
export const dailyExposureDb = (exposures: readonly Exposure[]): number =>
  levelOf(sum(exposures.map(({ levelDb, minutes }) => (minutes / WORKING_DAY_MINUTES) * energyOf(levelDb))));

/** L_EP,w: of up to seven days, as if they were five. */
export const weeklyExposureDb = (daysDb: readonly number[]): number => levelOf(sum(daysDb.map(energyOf)) / 5);

/** HSE points: 100 are 85 dB all day. */
export const pointsOf = ({ levelDb, minutes }: Exposure): number =>
  100 * (minutes / WORKING_DAY_MINUTES) * energyOf(levelDb - CRITERION_DB);

export const exposureOfPoints = (points: number): number => CRITERION_DB + levelOf(points / 100);

/** NIOSH 98-126: how long a level may last in a day; half as long for each 3 dB. */
export const minutesAllowed = (levelDb: number): number => WORKING_DAY_MINUTES / 2 ** ((levelDb - CRITERION_DB) / 3);

/** NIOSH 98-126, in per cent of a day's dose. */
export const doseOf = (exposures: readonly Exposure[]): number =>
  100 * sum(exposures.map(({ levelDb, minutes }) => minutes / minutesAllowed(levelDb)));

/** NIOSH 98-126: the eight-hour average of a dose; 10 dB for ten times, where the 3 dB of the dose are 10·log10(2). */
export const averageOfDose = (dosePercent: number): number => CRITERION_DB + levelOf(dosePercent / 100);

/** Minutes at a level until the day's exposure reaches `dailyDb`; 0 where it is past that already. */
export function minutesUntil(dailyDb: number, levelDb: number, before: readonly Exposure[]): number {
  const left = energyOf(dailyDb) * WORKING_DAY_MINUTES - sum(before.map((one) => one.minutes * energyOf(one.levelDb)));
  return Math.max(0, left / energyOf(levelDb));
}

/** Of one source over open ground, 6 dB less for twice the distance. */
export const atDistance = (levelDb: number, fromM: number, toM: number): number =>
  levelDb - 20 * Math.log10(toM / fromM);

/**
 * The steady level that is as much as `passes` bikes going by in `minutes`, each loudest at `nearestM` and riding on at
 * `speedMps`. One source on a straight line sounds like its loudest for π·nearest/speed: the integral of
 * nearest²/(nearest² + (speed·t)²) over all t.
 */
export function levelOfPasses(
  loudestDb: number,
  pass: { readonly nearestM: number; readonly speedMps: number; readonly passes: number; readonly minutes: number },
): number {
  const secondsAsLoud = pass.passes * ((Math.PI * pass.nearestM) / pass.speedMps);
  return loudestDb + levelOf(secondsAsLoud / (pass.minutes * 60));
}

/** What a protector is sold with. SNR is meant for C-weighted levels, HML for A and C together. */
export type ProtectorRating =
  | { readonly kind: 'snr'; readonly snrDb: number }
  | { readonly kind: 'hml'; readonly highDb: number; readonly mediumDb: number; readonly lowDb: number };

export interface WeightedLevels {
  readonly aDb: number;
  readonly cDb: number;
}

/** ISO 4869-2, 8.2: the reduction predicted from H, M and L. */
export function predictedReduction(
  { highDb: h, mediumDb: m, lowDb: l }: Extract<ProtectorRating, { kind: 'hml' }>,
  { aDb, cDb }: WeightedLevels,
): number {
  const difference = cDb - aDb;
  return m - (difference <= 2 ? (h - m) / 4 : (m - l) / 8) * (difference - 2);
}

/** L′A at the ear by the laboratory's figures; at work it is {@link REAL_WORLD_DB} more. */
export function behindProtector(rating: ProtectorRating, levels: WeightedLevels): { labDb: number; atWorkDb: number } {
  const labDb = rating.kind === 'snr' ? levels.cDb - rating.snrDb : levels.aDb - predictedReduction(rating, levels);
  return { labDb, atWorkDb: labDb + REAL_WORLD_DB };
}

const REFERENCE_PRESSURE_PA = 20e-6;

/** A peak as the directive gives it, in pascals. */
export const peakDb = (pascals: number): number => 20 * Math.log10(pascals / REFERENCE_PRESSURE_PA);
