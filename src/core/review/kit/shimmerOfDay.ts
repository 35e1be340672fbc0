/**
 * Whether far bikes lose sharpness as the day warms: rules PL817, PL818.
 *
 * Compared are passes of one spot, body, lens, shutter and size of picture; of each pass the median, of each bike the sharpness in its
 * sharpest direction, for movement smears along its way and leaves what stands across it. Near bikes of the same hours are the control:
 * air blurs them little, tired hands and a knocked focus blur them as well.
 */
import type { Sharpness } from '../../measure/types.js';
import { type Trend, type TrendPoint, theilSen } from '../../numeric/theilSen.js';
import type { WallMs } from '../../units.js';
import { evidenceOf, groupedBy, type JudgedBike, medianOf, percent } from './judgedBikes.js';
import type { EvidenceFrame, ShimmerTrend } from './types.js';

const HOUR_MS = 3_600_000;
/** From where people begin to speak of it (own convention, as the advice on settings has it). */
const FAR_M = 40;
/** Bike and rider from the ground to the helmet: upright 1.4 m, leant less. */
const BIKE_M = 1.3;
/** Of a picture of 36 × 24 mm. */
const SHORT_EDGE_MM = 24;
const LEAST_PASSES = 20;
const LEAST_HOURS = 1.5;
const EVIDENCE_EITHER_END = 3;

interface Seen {
  readonly judged: JudgedBike;
  readonly wall: WallMs;
  /** Logarithm. */
  readonly sharpness: number;
  readonly isFar: boolean;
}

export function shimmerOfDay(bikes: readonly JudgedBike[]): readonly ShimmerTrend[] {
  const seen = bikes.flatMap(seenOf);
  const farOnes = passesOf(seen.filter(({ isFar }) => isFar));
  const far = trendOf(farOnes);
  if (far === null) return [];
  const near = trendOf(passesOf(seen.filter(({ isFar }) => !isFar)));
  const points = pointsTo(far, near);
  const compared = near === null ? '' : ` Near ones: ${anHour(near)}.`;
  return [
    {
      kind: 'measurement',
      far,
      near,
      points,
      evidence: firstAndLast(farOnes),
      sentence: `Bikes about ${FAR_M} m away and more (by their size): ${anHour(far)}, over ${far.points} passes.${compared} ${POINTS[points]}`,
    },
  ];
}

const POINTS: Readonly<Record<ShimmerTrend['points'], string>> = {
  'to the air': 'It points to the air: near ones fell less.',
  'not to the air alone': 'Near ones fell as well: not the air alone.',
  'to air or focus': 'Too few near ones to tell air from focus.',
  'to nothing': 'No growing shimmer shows.',
};

function seenOf(judged: JudgedBike): readonly Seen[] {
  const { subject, metadata, exposure } = judged;
  const focal = metadata.lens.focalLength35Mm;
  if (subject === null || exposure.wall === null || focal === undefined || !('overall' in subject.sharpness)) return [];
  const { widthPx = 3, heightPx = 2 } = metadata;
  const heightMm = SHORT_EDGE_MM * Math.max(1, heightPx / widthPx) * subject.box[3];
  const distanceM = (BIKE_M * focal) / heightMm;
  return [
    {
      judged,
      wall: exposure.wall,
      sharpness: Math.log(sharpestDirection(subject.sharpness)),
      isFar: distanceM >= FAR_M,
    },
  ];
}

const sharpestDirection = ({ alongX, alongY, alongDown = 0, alongUp = 0 }: Sharpness): number =>
  Math.max(alongX, alongY, alongDown, alongUp);

/** One for each pass: its middle frame by sharpness. */
const passesOf = (seen: readonly Seen[]): readonly Seen[] =>
  [...groupedBy(seen, ({ judged }) => String(judged.pass.index)).values()].map((frames) => {
    const middle = medianOf(frames.map(({ sharpness }) => sharpness));
    return frames.reduce((best, one) =>
      Math.abs(one.sharpness - middle) < Math.abs(best.sharpness - middle) ? one : best,
    );
  });

function trendOf(passes: readonly Seen[]): Trend | null {
  const strata = groupedBy(passes, ({ judged: { pass, exposure, lens, shutterS, subject } }) => {
    const scale = subject !== null && 'overall' in subject.sharpness ? subject.sharpness.scalePx : 0;
    return JSON.stringify([pass.spot, exposure.body, lens, shutterS, Math.round(4 * Math.log2(scale))]);
  });
  // A stratum of one session says nothing of the hours, but for its noise.
  const spread = [...strata.values()].filter((ones) => hoursOf(ones) >= LEAST_HOURS);
  if (spread.reduce((sum, { length }) => sum + length, 0) < LEAST_PASSES) return null;
  return theilSen(
    spread.map((ones) => ones.map(({ wall, sharpness }): TrendPoint => ({ x: wall / HOUR_MS, y: sharpness }))),
  );
}

function hoursOf(passes: readonly Seen[]): number {
  const times = passes.map(({ wall }) => wall);
  return (Math.max(...times) - Math.min(...times)) / HOUR_MS;
}

function pointsTo(far: Trend, near: Trend | null): ShimmerTrend['points'] {
  if (far.to >= 0) return 'to nothing';
  if (near === null) return 'to air or focus';
  return far.to < near.from ? 'to the air' : 'not to the air alone';
}

function anHour({ slope, from, to }: Trend): string {
  const [middle, least, most] = [slope, from, to].map((one) => percent(Math.exp(one) - 1));
  return `sharpness ${signed(middle!)} % an hour (${signed(least!)} to ${signed(most!)} % to be expected)`;
}

const signed = (value: number): string => (value < 0 ? `−${-value}` : value > 0 ? `+${value}` : '0');

/** Sharpest of the first third of the hours, softest of the last. */
function firstAndLast(passes: readonly Seen[]): readonly EvidenceFrame[] {
  const inTime = [...passes].sort((a, b) => a.wall - b.wall);
  const third = Math.max(1, Math.floor(inTime.length / 3));
  const early = inTime.slice(0, third).sort((a, b) => b.sharpness - a.sharpness);
  const late = inTime.slice(-third).sort((a, b) => a.sharpness - b.sharpness);
  return [...early.slice(0, EVIDENCE_EITHER_END), ...late.slice(0, EVIDENCE_EITHER_END)].map(({ judged }) =>
    evidenceOf(judged),
  );
}
