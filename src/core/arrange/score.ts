/**
 * How right an arrangement is, against what is known to be true. Used by `accuracy` and by tests, never by a stage.
 *
 * Sessions are compared over bike frames in true order, riders and passes over bikes that both the truth and a
 * detector saw. WindowDiff in the form of Pevzner and Hearst (k beside it).
 */

import type { BodyKey, FrameId } from '../ids.js';
import type { Box, FrameMeasurement } from '../measure/types.js';
import { assign } from '../numeric/assignment.js';
import { bcubed, type LabelledItem, type PrecisionRecall } from '../numeric/bcubed.js';
import { type WindowMeasure, windowDiff } from '../numeric/segmentation.js';
import type { WallMs } from '../units.js';
import type { Arrangement } from './types.js';

export interface TrueBike {
  readonly box: Box;
  readonly rider: string;
  /** Unique in the day. */
  readonly pass: string;
}

export interface TrueExposure {
  readonly frameId: FrameId;
  readonly wall: WallMs;
  /** Unique in the day; null outside every session and for dividers. */
  readonly session: string | null;
  readonly bikes: readonly TrueBike[];
}

/** What is true of a day, in plain records. */
export interface ArrangementTruth {
  readonly exposures: readonly TrueExposure[];
  /** True names of sessions to their groups. */
  readonly groupOf: ReadonlyMap<string, string | null>;
  /** What must be added to recorded times; bodies not named are not scored. */
  readonly clocks: ReadonlyMap<BodyKey, number>;
}

export interface ArrangementScore {
  readonly sessions: {
    readonly trueBoundaries: number;
    readonly missed: number;
    readonly invented: number;
    /** missed + invented. */
    readonly wrongBoundaries: number;
    readonly windowDiff: WindowMeasure | null;
    /** Sessions whose frames mostly belong to a session of another group. */
    readonly wrongGroups: number;
  };
  readonly passes: PrecisionRecall | null;
  /** Bikes in nobody's set count as one rider each. */
  readonly riders: PrecisionRecall | null;
  readonly trueRiders: number;
  readonly foundRiders: number;
  /** True riders that are the majority of no rider found. */
  readonly ridersMissed: readonly string[];
  /** Largest error of a body's clock, in seconds; null where no clock is known. */
  readonly clockErrorS: number | null;
  /** Exposures of the truth that the arrangement does not hold. */
  readonly framesLost: readonly FrameId[];
}

const LEAST_OVERLAP = 0.3;

export function scoreArrangement(
  arrangement: Arrangement,
  truth: ArrangementTruth,
  pixels: ReadonlyMap<FrameId, FrameMeasurement>,
): ArrangementScore {
  const riderItems = matchedBikes(arrangement, truth, pixels);
  const unsure = new Set(arrangement.unsure);
  const placed = riderItems.filter(({ pass }) => !unsure.has(pass));
  const trueRiders = new Set(truth.exposures.flatMap(({ bikes }) => bikes.map(({ rider }) => rider)));
  const owners = majorities(placed.map(({ rider, trueRider }) => ({ cluster: rider, truth: trueRider })));
  const known = new Set(arrangement.exposures.map(({ frameId }) => frameId));
  return {
    sessions: scoreSessions(arrangement, truth),
    passes: bcubed(riderItems.map(({ pass, truePass }) => ({ cluster: pass, truth: truePass }))),
    riders: bcubed(
      riderItems.map(({ rider, trueRider, pass }, i) => ({
        cluster: unsure.has(pass) ? `unsure ${i}` : rider,
        truth: trueRider,
      })),
    ),
    trueRiders: trueRiders.size,
    foundRiders: arrangement.riders.length,
    ridersMissed: [...trueRiders].filter((rider) => !owners.has(rider)).sort(),
    clockErrorS: clockError(arrangement, truth),
    framesLost: truth.exposures.map(({ frameId }) => frameId).filter((id) => !known.has(id)),
  };
}

function scoreSessions(arrangement: Arrangement, truth: ArrangementTruth): ArrangementScore['sessions'] {
  const foundOf = new Map(arrangement.exposures.map(({ frameId, session }) => [frameId, session]));
  const frames = [...truth.exposures]
    .filter(({ session, bikes }) => session !== null && bikes.length > 0)
    .sort((a, b) => a.wall - b.wall || (a.frameId < b.frameId ? -1 : 1));
  const wanted = frames.map(({ session }) => session!);
  const found = frames.map(({ frameId }) => foundOf.get(frameId) ?? -1);
  let trueBoundaries = 0;
  let missed = 0;
  let invented = 0;
  for (let i = 1; i < frames.length; i++) {
    const isTrue = wanted[i] !== wanted[i - 1];
    const isFound = found[i] !== found[i - 1];
    if (isTrue) trueBoundaries++;
    if (isTrue && !isFound) missed++;
    if (!isTrue && isFound) invented++;
  }
  return {
    trueBoundaries,
    missed,
    invented,
    wrongBoundaries: missed + invented,
    windowDiff: frames.length < 8 ? null : windowDiff(wanted, found),
    wrongGroups: wrongGroups(arrangement, truth, wanted, found),
  };
}

function wrongGroups(
  arrangement: Arrangement,
  truth: ArrangementTruth,
  wanted: readonly string[],
  found: readonly number[],
): number {
  const items = found.map((cluster, i) => ({ cluster, truth: wanted[i]! })).filter(({ cluster }) => cluster >= 0);
  const majority = new Map<string | number, string | number>();
  for (const [cluster, { truth: best }] of majorityOf(items)) majority.set(cluster, best);
  return arrangement.sessions.filter(({ index, group }) => {
    const session = majority.get(index);
    return session !== undefined && (truth.groupOf.get(String(session)) ?? null) !== group;
  }).length;
}

interface MatchedBike {
  readonly rider: string;
  readonly trueRider: string;
  readonly pass: number;
  readonly truePass: string;
}

function matchedBikes(
  arrangement: Arrangement,
  truth: ArrangementTruth,
  pixels: ReadonlyMap<FrameId, FrameMeasurement>,
): readonly MatchedBike[] {
  const seen = new Map<FrameId, { subject: number; box: Box; pass: number; rider: string }[]>();
  const saidBoxes = new Map(arrangement.saidBikes.map(({ frameId, box, rider }) => [`${frameId} ${rider}`, box]));
  for (const { bikes, index, rider } of arrangement.passes)
    for (const { frameId, subject } of bikes) {
      const frame = pixels.get(frameId);
      const box =
        frame?.kind === 'measured' && subject >= 0
          ? frame.subjects[subject]?.box
          : saidBoxes.get(`${frameId} ${rider}`);
      if (box === undefined) continue;
      const list = seen.get(frameId) ?? [];
      list.push({ subject, box, pass: index, rider });
      seen.set(frameId, list);
    }
  return truth.exposures.flatMap(({ frameId, bikes }) => matchFrame(bikes, seen.get(frameId) ?? []));
}

function matchFrame(
  bikes: readonly TrueBike[],
  seen: readonly { readonly box: Box; readonly pass: number; readonly rider: string }[],
): readonly MatchedBike[] {
  if (bikes.length === 0 || seen.length === 0) return [];
  const cost = Float64Array.from(bikes.flatMap(({ box }) => seen.map((other) => -overlap(box, other.box))));
  return [...assign(cost, bikes.length, seen.length)].flatMap((column, row) => {
    const other = seen[column];
    const bike = bikes[row]!;
    if (other === undefined || overlap(bike.box, other.box) < LEAST_OVERLAP) return [];
    return [{ rider: other.rider, trueRider: bike.rider, pass: other.pass, truePass: bike.pass }];
  });
}

/** Intersection over union. */
function overlap(a: Box, b: Box): number {
  const width = Math.min(a[0] + a[2], b[0] + b[2]) - Math.max(a[0], b[0]);
  const height = Math.min(a[1] + a[3], b[1] + b[3]) - Math.max(a[1], b[1]);
  const both = Math.max(0, width) * Math.max(0, height);
  return both / Math.max(1e-12, a[2] * a[3] + b[2] * b[3] - both);
}

function majorityOf(items: readonly LabelledItem[]): ReadonlyMap<string | number, { truth: string | number }> {
  const counts = new Map<string | number, Map<string | number, number>>();
  for (const { cluster, truth } of items) {
    const row = counts.get(cluster) ?? new Map<string | number, number>();
    row.set(truth, (row.get(truth) ?? 0) + 1);
    counts.set(cluster, row);
  }
  return new Map(
    [...counts].map(([cluster, row]) => {
      const [truth] = [...row].reduce((best, next) => (next[1] > best[1] ? next : best));
      return [cluster, { truth }];
    }),
  );
}

const majorities = (items: readonly LabelledItem[]): ReadonlySet<string | number> =>
  new Set([...majorityOf(items).values()].map(({ truth }) => truth));

function clockError(arrangement: Arrangement, truth: ArrangementTruth): number | null {
  const errors = arrangement.clocks
    .filter(({ body }) => truth.clocks.has(body))
    .map(({ body, offsetMs }) => Math.abs(offsetMs - truth.clocks.get(body)!) / 1000);
  return errors.length === 0 ? null : Math.max(...errors);
}
