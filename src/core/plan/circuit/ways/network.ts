/**
 * The ways as a net: joined where they cross and where an end lies within 15 m of another, spots and the paddock hung on
 * it. No join leads over the track, and none onto the middle of a bridge or into a tunnel. Rule PL106.
 */
import type { SpotId } from '../../../ids.js';
import type { Point } from '../../../numeric/localPlane.js';
import { distanceBetween, lengthOf, lineBetween, meetingShares, nearestOnLine, pointBetween } from '../segments.js';
import { nearestOnTrack, pointOf, type Track } from '../track.js';
import type { Circuit, Way } from '../types.js';
import { meetsTrack } from './meetsTrack.js';

const JOIN_M = 15;
/** A spot further from every way is walked to over open ground, this far at most. */
const GROUND_M = 60;
/** Ramps of a bridge or tunnel reach this far from the track's edge. Common practice. */
const RAMP_M = 8;

export type Stop = SpotId | 'paddock';

export interface Edge {
  readonly from: number;
  readonly to: number;
  readonly metres: number;
  /** Null: a join between ways, or the last steps to a spot. */
  readonly way: Way | null;
  /** Of the whole way. */
  readonly wayM: number;
  readonly isGround: boolean;
  /** On the ground, from the one end to the other. */
  readonly line: readonly Point[];
}

export interface Network {
  /** Edges that leave each node. */
  readonly leaving: readonly (readonly Edge[])[];
  readonly stops: ReadonlyMap<Stop, number>;
  /** Ways that join another, a spot or the paddock. */
  readonly joined: ReadonlySet<string>;
  /** Ways that meet the track, which are not used, and where. */
  readonly onTrack: ReadonlyMap<string, readonly Point[]>;
}

interface Lane {
  readonly way: Way;
  readonly points: readonly Point[];
  readonly lengthM: number;
  /** Metres along → node. */
  readonly cuts: Map<number, number>;
}

export function layNetwork(circuit: Circuit, track: Track): Network {
  const net = new NetBuilder(track);
  const onTrack = new Map<string, readonly Point[]>();
  for (const way of circuit.ways) {
    const meets = meetsTrack(track, way);
    if (meets.length > 0) onTrack.set(way.id, meets);
    else net.addLane(way);
  }
  net.joinLanes();
  const stops = new Map<Stop, number>([['paddock', net.hang(pointOf(track.plane, circuit.paddock))]]);
  for (const spot of circuit.spots) stops.set(spot.id, net.hang(pointOf(track.plane, spot.place)));
  return { leaving: net.edges(), stops, joined: net.joined, onTrack };
}

class NetBuilder {
  readonly joined = new Set<string>();
  private readonly lanes: Lane[] = [];
  private readonly links: Edge[] = [];
  private nodes = 0;
  private readonly track: Track;

  constructor(track: Track) {
    this.track = track;
  }

  addLane(way: Way): void {
    const points = way.line.map((place) => pointOf(this.track.plane, place));
    const lengthM = lengthOf(points);
    this.lanes.push({ way, points, lengthM, cuts: new Map([[0, this.nodes++]]) });
    this.cut(this.lanes.at(-1)!, lengthM);
  }

  joinLanes(): void {
    this.lanes.forEach((lane, i) => {
      for (const other of this.lanes.slice(i + 1)) {
        this.joinCrossings(lane, other);
        this.joinEnds(lane, other);
        this.joinEnds(other, lane);
      }
    });
  }

  /** A new node for a spot or the paddock, hung on every way within 15 m, else on the nearest over open ground. */
  hang(point: Point): number {
    const node = this.nodes++;
    const feet = this.lanes
      .map((lane) => ({ lane, ...nearestOnLine(point, lane.points) }))
      .filter((foot) => foot.distanceM <= GROUND_M && this.mayJoin(point, foot.lane, foot.alongM, foot.point))
      .sort((a, b) => a.distanceM - b.distanceM);
    const near = feet.filter((foot) => foot.distanceM <= JOIN_M);
    for (const foot of near.length > 0 ? near : feet.slice(0, 1))
      this.link(node, point, foot.lane, foot.alongM, foot.distanceM);
    return node;
  }

  edges(): Edge[][] {
    const leaving: Edge[][] = Array.from({ length: this.nodes }, () => []);
    const add = (edge: Edge): void => {
      leaving[edge.from]!.push(edge);
      leaving[edge.to]!.push({ ...edge, from: edge.to, to: edge.from, line: edge.line.toReversed() });
    };
    for (const { way, cuts, lengthM, points } of this.lanes) {
      const inOrder = [...cuts].sort(([a], [b]) => a - b);
      inOrder.slice(1).forEach(([along, to], i) => {
        const [before, from] = inOrder[i]!;
        const line = lineBetween(points, before, along);
        add({ from, to, metres: along - before, way, wayM: lengthM, isGround: false, line });
      });
    }
    this.links.forEach(add);
    return leaving;
  }

  private cut(lane: Lane, alongM: number): number {
    const known = lane.cuts.get(alongM);
    if (known !== undefined) return known;
    lane.cuts.set(alongM, this.nodes);
    return this.nodes++;
  }

  private link(node: number, at: Point, lane: Lane, alongM: number, metres: number): void {
    const to = this.cut(lane, alongM);
    const line = [at, pointOnLane(lane, alongM)];
    this.links.push({ from: node, to, metres, way: null, wayM: 0, isGround: metres > JOIN_M, line });
    this.joined.add(lane.way.id);
  }

  private joinCrossings(lane: Lane, other: Lane): void {
    let along = 0;
    for (let i = 1; i < lane.points.length; i++) {
      const [a, b] = [lane.points[i - 1]!, lane.points[i]!];
      let otherAlong = 0;
      for (let k = 1; k < other.points.length; k++) {
        const [c, d] = [other.points[k - 1]!, other.points[k]!];
        const shares = meetingShares(a, b, c, d);
        if (shares !== null)
          this.joinAt(
            lane,
            along + shares[0] * distanceBetween(a, b),
            other,
            otherAlong + shares[1] * distanceBetween(c, d),
            0,
          );
        otherAlong += distanceBetween(c, d);
      }
      along += distanceBetween(a, b);
    }
  }

  private joinEnds(lane: Lane, other: Lane): void {
    for (const [end, alongM] of [
      [lane.points[0]!, 0],
      [lane.points.at(-1)!, lane.lengthM],
    ] as const) {
      const foot = nearestOnLine(end, other.points);
      if (foot.distanceM > JOIN_M || !this.mayJoin(end, other, foot.alongM, foot.point)) continue;
      this.joinAt(lane, alongM, other, foot.alongM, foot.distanceM);
    }
  }

  private joinAt(lane: Lane, alongM: number, other: Lane, otherAlongM: number, metres: number): void {
    const isInside = this.isBetweenRamps(lane, alongM) || this.isBetweenRamps(other, otherAlongM);
    if (isInside) return;
    this.link(this.cut(lane, alongM), pointOnLane(lane, alongM), other, otherAlongM, metres);
    this.joined.add(lane.way.id);
  }

  private mayJoin(from: Point, lane: Lane, alongM: number, foot: Point): boolean {
    const { points } = this.track;
    const isOverTrack = points.some((a, i) => meetingShares(from, foot, a, points[(i + 1) % points.length]!) !== null);
    return !isOverTrack && !this.isBetweenRamps(lane, alongM);
  }

  /** On the bridge or in the tunnel itself, where nobody steps on or off. */
  private isBetweenRamps(lane: Lane, alongM: number): boolean {
    if (lane.way.crossing === 'none') return false;
    if (alongM <= 0 || alongM >= lane.lengthM) return false;
    const at = pointOnLane(lane, alongM);
    return nearestOnTrack(this.track, at).distanceM < this.track.halfWidthM + RAMP_M;
  }
}

function pointOnLane({ points }: Lane, alongM: number): Point {
  let along = 0;
  for (let i = 1; i < points.length; i++) {
    const step = distanceBetween(points[i - 1]!, points[i]!);
    if (step > 0 && along + step >= alongM) {
      const share = (alongM - along) / step;
      return pointBetween(points[i - 1]!, points[i]!, share);
    }
    along += step;
  }
  return points.at(-1)!;
}
