/** A spot's light through a day: where it changes, when the sun is low, and the row that is drawn of it. */
import { type SunPlace, sunAt } from '../../numeric/solar.js';
import { type EpochMs, epochMsOf, millisecondsOf, unitIntervalOf } from '../../units.js';
import type { SpotView } from '../circuit/types.js';
import { isLow, LIGHT_RULES, lightOf } from './lightAt.js';
import type { LightRow, LightSpan, Sky, SkySpan, SpotLight, SunRow, SunTrack, ThreadRun, TimeSpan } from './types.js';

const MINUTE_MS = millisecondsOf(60_000);
/** Points of a thread: one every four minutes bends as the sun does, well within a pixel. */
const MINUTES_A_POINT = 4;
/** Under an even sky no side is lit or in shade: threads stay thin. */
const EVEN_SHADE = 0.25;

/** Minutes from `from` to `to`, both ends included. */
export const sunTrack = (place: SunPlace, from: EpochMs, to: EpochMs): SunTrack => ({
  from,
  stepMs: MINUTE_MS,
  positions: Array.from({ length: Math.floor((to - from) / MINUTE_MS) + 1 }, (_, minute) => {
    const { azimuthDeg, altitudeDeg } = sunAt(place, epochMsOf(from + minute * MINUTE_MS));
    return { azimuthDeg, altitudeDeg };
  }),
});

/** One minute of one spot. */
interface Moment {
  readonly at: EpochMs;
  readonly light: SpotLight;
  readonly isSkySaid: boolean;
}

const momentsOf = (view: SpotView, track: SunTrack, skies: readonly SkySpan[]): readonly Moment[] =>
  track.positions.map((sun, i) => {
    const at = epochMsOf(track.from + i * track.stepMs);
    const said = skyAt(skies, at);
    return { at, light: lightOf(view, sun, said ?? 'clear'), isSkySaid: said !== null };
  });

/** What was said last about an instant stands. */
export const skyAt = (skies: readonly SkySpan[], at: EpochMs): Sky | null =>
  skies.findLast(({ from, to }) => from <= at && at < to)?.is ?? null;

export const lightRow = (view: SpotView, track: SunTrack, skies: readonly SkySpan[]): LightRow => {
  const moments = momentsOf(view, track, skies);
  const spansWhere = (holds: (light: SpotLight) => boolean): readonly TimeSpan[] =>
    runsOf(moments, ({ light }) => String(holds(light)))
      .filter(([first]) => first !== undefined && holds(first.light))
      .map(spanOf);
  return {
    spot: view.spot.id,
    spans: lightSpansOf(moments),
    low: spansWhere((light) => light.kind !== 'night' && isLow(light.sun)),
    intoLens: spansWhere((light) => light.kind === 'sun' && light.isLowIntoLens),
    sideLit: spansWhere((light) => light.kind === 'sun' && light.onSide > 0),
  };
};

const lightSpansOf = (moments: readonly Moment[]): readonly LightSpan[] =>
  runsOf(moments, ({ light, isSkySaid }) => `${nameOf(light)} ${isSkySaid}`).map(lightSpanOf);

const nameOf = (light: SpotLight): LightSpan['is'] => (light.kind === 'sun' ? light.from : light.kind);

/** Runs of moments that are alike; each holds the first moment of the next, so that spans meet. */
const runsOf = (moments: readonly Moment[], keyOf: (moment: Moment) => string): readonly (readonly Moment[])[] => {
  const runs: Moment[][] = [];
  let key: string | null = null;
  for (const moment of moments) {
    const own = keyOf(moment);
    runs.at(-1)?.push(moment);
    if (own !== key) runs.push([moment]);
    key = own;
  }
  return runs.filter((run) => run.length > 1);
};

const spanOf = (run: readonly Moment[]): TimeSpan => ({ from: run[0]!.at, to: run.at(-1)!.at });

const lightSpanOf = (run: readonly Moment[]): LightSpan => ({
  ...spanOf(run),
  is: nameOf(run[0]!.light),
  isSkySaid: run[0]!.isSkySaid,
  shadowLength: [shadowOf(run[0]!.light), shadowOf(run.at(-1)!.light)],
});

const shadowOf = (light: SpotLight): number | null => (light.kind === 'sun' ? light.shadowLength : null);

const WORDS = { front: 'front', side: 'side', back: 'back', even: 'even' } as const;

export const sunRow = (view: SpotView, track: SunTrack, skies: readonly SkySpan[]): SunRow => {
  const moments = momentsOf(view, track, skies);
  const spans = lightSpansOf(moments);
  return {
    spot: view.spot.id,
    threads: runsOf(moments, ({ light }) => threadKind(light) ?? '').flatMap(threadOf),
    changes: spans.flatMap(({ from, is }, i) => (i > 0 && spans[i - 1]!.is !== is ? [from] : [])),
    words: spans.flatMap(({ from, to, is }) => (is === 'night' ? [] : [{ from, to, word: WORDS[is] }])),
  };
};

const threadKind = (light: SpotLight): ThreadRun['kind'] | null => {
  if (light.kind === 'night') return null;
  if (light.kind === 'even') return 'even';
  return isLow(light.sun) ? 'broken' : 'whole';
};

const threadOf = (run: readonly Moment[]): readonly ThreadRun[] => {
  const kind = threadKind(run[0]!.light);
  if (kind === null) return [];
  // The last moment belongs to the next run; where that is night, this run's own last shade stands.
  const points = run.flatMap((moment, i) => {
    if (i % MINUTES_A_POINT !== 0 && i !== run.length - 1) return [];
    return [{ at: moment.at, shade: shadeOf(moment.light) ?? shadeOf(run[i - 1]!.light)! }];
  });
  return [{ kind, points }];
};

/** (1 + cos d)/2, d between the view and the sun: 0 with the sun behind the lens, 1 straight into it. */
const shadeOf = (light: SpotLight) => {
  if (light.kind === 'night') return null;
  if (light.kind === 'even') return unitIntervalOf(EVEN_SHADE);
  return unitIntervalOf((1 - Math.cos((light.offLensDeg * Math.PI) / 180)) / 2);
};

const THREADS = 5;
const ROW_EDGE_PX = 6;
const THINNEST_PX = 0.35;

/** Distance of the threads of a row, and how thick one is. Between the thickest a thin line of paper stays. */
export const threadPx = (shade: number, rowPx: number): { readonly pitchPx: number; readonly thickPx: number } => {
  const pitchPx = (rowPx - ROW_EDGE_PX) / THREADS;
  return { pitchPx, thickPx: THINNEST_PX + shade * (pitchPx - 2 * THINNEST_PX) };
};

/** When the sun stands above 12°, for the foot of the rows: null where it never does. */
export const highSun = ({ from, stepMs, positions }: SunTrack): TimeSpan | null => {
  const isHigh = ({ altitudeDeg }: { readonly altitudeDeg: number }) => altitudeDeg >= LIGHT_RULES.lowBelowDeg;
  const first = positions.findIndex(isHigh);
  const last = positions.findLastIndex(isHigh);
  return first === -1 ? null : { from: epochMsOf(from + first * stepMs), to: epochMsOf(from + last * stepMs) };
};
