/**
 * The plan's sun rows and settings. Sun: eight spots by 600 minutes, against the same 600 positions asked of the library alone.
 * Settings: eight spots by four groups, against the bare formulas of a ladder with no reasons, words or ranges.
 */
import { Body, Equator, Horizon, Observer } from 'astronomy-engine';
import type { SpotId } from '../src/core/ids.js';
import {
  FRONT_TYRE,
  followedBlurMm,
  panRateDegPerS,
  panStreakMm,
  streakShare,
  wheelTurnDeg,
} from '../src/core/numeric/motion.js';
import type { SpotView } from '../src/core/plan/circuit/types.js';
import { lightOf, lightRow, settingsFor, sunRow, sunTrack, USUAL_SENSOR } from '../src/core/plan/index.js';
import { type Degrees, epochMsOf, type Metres } from '../src/core/units.js';
import type { Figures } from '../tools/figures.js';

const SPOTS = 8;
const GROUPS = 4;
const MINUTES = 600;
const ROUNDS = 15;
const RUNGS = 11;
const PLACE = { latitudeDeg: 54.9 as Degrees, longitudeDeg: 1.5 as Degrees };
const FROM = epochMsOf(Date.UTC(2026, 8, 19, 7));
const TO = epochMsOf(FROM + (MINUTES - 1) * 60_000);

const views: readonly SpotView[] = Array.from({ length: SPOTS }, (_, i) => ({
  spot: {
    id: `spot-${i}` as SpotId,
    number: i + 1,
    name: `Spot ${i + 1}`,
    place: PLACE,
    viewAzimuthDeg: (i * 45) as Degrees,
  },
  alongM: (i * 400) as Metres,
  distanceM: (15 + i * 6) as Metres,
  headingDeg: (i * 45 + 90) as Degrees,
  aspect: 'side-on',
  sideSeen: 'right',
  radiusM: (i % 2 === 0 ? 80 : null) as Metres | null,
  moments: [],
}));

export const benchLight = async (): Promise<Figures> => {
  const sun = ratioOf(sunRows, libraryAlone);
  const settings = ratioOf(settingsTable, bareFormulas);
  return {
    'light.sunRowsToLibrary': figure(
      sun,
      `${SPOTS} spots × ${MINUTES} min with rows ÷ ${MINUTES} positions of the library`,
    ),
    'light.settingsToFormulas': figure(
      settings,
      `${SPOTS} spots × ${GROUPS} groups ÷ the bare formulas of their ladders`,
    ),
  };
};

interface Ratio {
  readonly ours: number;
  readonly reference: number;
  readonly spread: readonly [number, number];
}

const figure = ({ ours, reference, spread }: Ratio, what: string): Figures[string] => ({
  value: ours / reference,
  unit: '×',
  better: 'lower',
  note: `${what}: ${ours.toFixed(2)} ms ÷ ${reference.toFixed(2)} ms, least of ${ROUNDS}; rounds ${spread[0].toFixed(2)}–${spread[1].toFixed(2)}`,
});

/** Turn about, after a warm-up; the least of each. */
const ratioOf = (ours: () => number, reference: () => number): Ratio => {
  for (let i = 0; i < 5; i++)
    if (!(Number.isFinite(ours()) && Number.isFinite(reference()))) throw new Error('Nothing was measured.');
  const rounds = Array.from({ length: ROUNDS }, () => [timed(ours), timed(reference)] as const);
  const ratios = rounds.map(([a, b]) => a / b);
  return {
    ours: Math.min(...rounds.map(([a]) => a)),
    reference: Math.min(...rounds.map(([, b]) => b)),
    spread: [Math.min(...ratios), Math.max(...ratios)],
  };
};

const timed = (work: () => number): number => {
  const start = performance.now();
  work();
  return performance.now() - start;
};

const sunRows = (): number => {
  const track = sunTrack(PLACE, FROM, TO);
  let sum = 0;
  for (const view of views) sum += lightRow(view, track, []).spans.length + sunRow(view, track, []).threads.length;
  return sum;
};

const libraryAlone = (): number => {
  const observer = new Observer(PLACE.latitudeDeg, PLACE.longitudeDeg, 0);
  let sum = 0;
  for (let minute = 0; minute < MINUTES; minute++) {
    const at = new Date(FROM + minute * 60_000);
    const { ra, dec } = Equator(Body.Sun, at, observer, true, true);
    sum += Horizon(at, observer, ra, dec, 'normal').altitude;
  }
  return sum;
};

const speeds = Array.from({ length: GROUPS }, (_, i) => 90 + i * 30);

const settingsTable = (): number => {
  let sum = 0;
  for (const view of views) {
    const light = lightOf(view, { azimuthDeg: 200 as Degrees, altitudeDeg: 35 as Degrees }, 'clear');
    for (const saidKmh of speeds)
      sum += settingsFor({ view, group: 'N', speed: { level: 'inters', saidKmh }, light, sensor: USUAL_SENSOR }).ladder
        .rungs.length;
  }
  return sum;
};

const bareFormulas = (): number => {
  let sum = 0;
  for (const { distanceM } of views)
    for (const kmh of speeds)
      for (let rung = 0; rung < RUNGS; rung++) {
        const seconds = 2 ** -(rung / 2 + 5);
        const crossing = { speedMs: kmh / 3.6, distanceM, crossingDeg: 90 };
        sum += streakShare(crossing.speedMs, seconds) + wheelTurnDeg(FRONT_TYRE, crossing.speedMs, seconds);
        sum += panStreakMm(panRateDegPerS(crossing), 260, seconds);
        sum += followedBlurMm(crossing, { forwardM: 0.7, acrossM: 0.25 }, 260, seconds);
        sum += followedBlurMm(crossing, { forwardM: 0.7, acrossM: -0.25 }, 260, seconds);
      }
  return sum;
};
