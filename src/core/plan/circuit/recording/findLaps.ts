/**
 * Laps of a recording: a gate is laid across the recorded line, and what lies from one crossing of it in its direction to the
 * next is a lap, where laps are of one length. Of all gates the one whose laps go furthest stands. The way to the car and back
 * crosses no gate twice, or at another length. Rule PL109.
 */
import type { Point } from '../../../numeric/localPlane.js';
import { azimuthFrom, stepFrom, turnOf } from '../angles.js';
import { distanceBetween, lengthOf, meetingShares, nearestOnLine, pointBetween, walkLine } from '../segments.js';
import type { Tell } from './readRecording.js';

/** Half of the gate; wider than the track by what a phone errs. */
const GATE_HALF_M = 25;
/** A crossing within this of the gate's own direction is one. */
const GATE_TURN_DEG = 45;
const SHORTEST_LAP_M = 300;
/** Laps of one recording agree to this share of their length: lines taken differ, and phones err. */
const AGREE_SHARE = 0.04;
/** Laps pass one place this near to one another. */
const PASSES_M = 40;
/** Between places tried as a gate, along the line; of a long recording fewer are tried, for it has many laps. */
const GATE_EVERY_M = 40;
const MOST_GATES = 400;
/** Of a recording with more places than this, a whole day's, a gate takes long and the laps are hundreds. */
const LONG_PLACES = 50_000;
const GATES_OF_LONG = 80;
/** Nothing recorded over more ground than this is a lap. */
const WIDEST_M = 30_000;
/** A phone's direction is had over this length. */
const AIM_M = 40;
/** Where a recording ends this near to its start, it is one lap. */
const CLOSED_M = 60;
/** Places closer together than this are one: whoever walks or stands is recorded as a cloud about where they are. */
const CLOUD_M = 10;
/** No phone errs so far from one point to the next and back again. */
const JUMP_M = 150;

export function findLaps(recorded: readonly Point[], tell: Tell = () => undefined): readonly (readonly Point[])[] {
  const line = withoutClouds(withoutJumps(recorded));
  if (line.length < 3 || isWide(line)) return [];
  const even = walkLine(line, GATE_EVERY_M);
  const step = Math.max(1, Math.ceil((even.length - 2) / (line.length > LONG_PLACES ? GATES_OF_LONG : MOST_GATES)));
  // However few are tried, each lies across the line as it runs there, from 40 m before to 40 m behind.
  const gates = even.slice(1, -1).flatMap((at, i) => (i % step === 0 ? [[even[i]!, at, even[i + 2]!] as const] : []));
  const tries = gates.map(([before, at, after], i) => {
    tell(i / gates.length);
    return lapsThrough(line, before, at, after);
  });
  const best = mostOf(tries);
  if (best.length > 0) return best;
  const isClosed = distanceBetween(line[0]!, line.at(-1)!) <= CLOSED_M && lengthOf(line) >= SHORTEST_LAP_M;
  return isClosed ? [line] : [];
}

/** What goes furthest in all, so that half an eight is no lap; of those about equal the most, so that two in one are none. */
function mostOf(tries: readonly (readonly (readonly Point[])[])[]): readonly (readonly Point[])[] {
  const wholes = tries.map((laps) => laps.reduce((sum, lap) => sum + lengthOf(lap), 0));
  const furthest = Math.max(0, ...wholes);
  const far = tries.filter((_, i) => wholes[i]! >= 0.9 * furthest);
  return far.reduce((most, laps) => (laps.length > most.length ? laps : most), []);
}

const isWide = (line: readonly Point[]): boolean =>
  line.some((point) => Math.abs(point.x - line[0]!.x) > WIDEST_M || Math.abs(point.y - line[0]!.y) > WIDEST_M);

function withoutJumps(points: readonly Point[]): Point[] {
  return points.filter((point, i) => {
    const [before, after] = [points[i - 1], points[i + 1]];
    if (before === undefined || after === undefined) return true;
    const isOut = distanceBetween(point, before) > JUMP_M && distanceBetween(point, after) > JUMP_M;
    return !isOut || distanceBetween(before, after) > JUMP_M;
  });
}

/** Places in a row about one place, as their middle. */
function withoutClouds(points: readonly Point[]): Point[] {
  const out: Point[] = [];
  let cloud: Point[] = [];
  const gather = (): void => {
    if (cloud.length === 0) return;
    const sum = cloud.reduce((so, { x, y }) => ({ x: so.x + x, y: so.y + y }));
    out.push({ x: sum.x / cloud.length, y: sum.y / cloud.length });
    cloud = [];
  };
  for (const point of points) {
    if (cloud.length > 0 && distanceBetween(point, cloud[0]!) > CLOUD_M) gather();
    cloud.push(point);
  }
  gather();
  return out;
}

/** Stretches between crossings of a gate at `at`, across the way from `before` to `after`, that are of one length. */
function lapsThrough(line: readonly Point[], before: Point, at: Point, after: Point): (readonly Point[])[] {
  const aim = azimuthFrom(before, after);
  const gate = [stepFrom(at, aim - 90, GATE_HALF_M), stepFrom(at, aim + 90, GATE_HALF_M)] as const;
  const crossings: { readonly i: number; readonly point: Point }[] = [];
  for (let i = 0; i + 1 < line.length; i++) {
    if (!isBeside(line[i]!, line[i + 1]!, at, GATE_HALF_M)) continue;
    const shares = meetingShares(line[i]!, line[i + 1]!, gate[0], gate[1]);
    if (shares === null) continue;
    if (Math.abs(turnOf(aimAt(line, i) - aim)) > GATE_TURN_DEG) continue;
    crossings.push({ i, point: pointBetween(line[i]!, line[i + 1]!, shares[0]) });
  }
  const stretches = crossings
    .slice(1)
    .map((to, k) => [crossings[k]!.point, ...line.slice(crossings[k]!.i + 1, to.i + 1), to.point])
    .filter((stretch) => lengthOf(stretch) >= SHORTEST_LAP_M);
  return ofOneLength(stretches);
}

/** Direction of the line near a piece of it, over 40 m: a piece of a noisy line may point anywhere. */
function aimAt(line: readonly Point[], i: number): number {
  let from = i;
  let to = i + 1;
  while (from > 0 && distanceBetween(line[from]!, line[i]!) < AIM_M / 2) from--;
  while (to < line.length - 1 && distanceBetween(line[to]!, line[i + 1]!) < AIM_M / 2) to++;
  return azimuthFrom(line[from]!, line[to]!);
}

/**
 * The most stretches that agree with one of them: of its length, and passing where it passes. A stretch of two laps in one
 * agrees with none; the two halves of an eight are of one length, but lie apart.
 */
function ofOneLength(stretches: readonly (readonly Point[])[]): (readonly Point[])[] {
  const lengths = stretches.map(lengthOf);
  const isAsLong = (i: number, k: number) => Math.abs(lengths[i]! - lengths[k]!) <= AGREE_SHARE * lengths[k]!;
  const likely = stretches.map((_, k) => ({ k, most: stretches.filter((_, i) => isAsLong(i, k)).length }));
  let best: { readonly k: number; readonly laps: (readonly Point[])[] } = { k: 0, laps: [] };
  // Where they pass is dear to ask: those with most of their length first, until no other can have more.
  for (const { k, most } of likely.sort((a, b) => b.most - a.most || a.k - b.k)) {
    if (most < best.laps.length) break;
    if (most === best.laps.length && k > best.k) continue;
    const stretch = stretches[k]!;
    const marks = [0.25, 0.5, 0.75].map((share) => stretch[Math.floor(share * stretch.length)]!);
    const laps = stretches.filter((other, i) => isAsLong(i, k) && marks.every((mark) => passesBy(other, mark)));
    if (laps.length > best.laps.length || (laps.length === best.laps.length && k < best.k)) best = { k, laps };
  }
  return best.laps;
}

/** Whether a line comes near a place; the first piece that does is enough. */
function passesBy(line: readonly Point[], mark: Point): boolean {
  for (let i = 0; i + 1 < line.length; i++)
    if (isBeside(line[i]!, line[i + 1]!, mark, PASSES_M)) {
      const piece = [line[i]!, line[i + 1]!];
      if (nearestOnLine(mark, piece).distanceM <= PASSES_M) return true;
    }
  return false;
}

/** Cheap: false where a piece of a line surely lies further than `reach` from a place. */
const isBeside = (a: Point, b: Point, at: Point, reach: number): boolean =>
  Math.min(a.x, b.x) <= at.x + reach &&
  Math.max(a.x, b.x) >= at.x - reach &&
  Math.min(a.y, b.y) <= at.y + reach &&
  Math.max(a.y, b.y) >= at.y - reach;
