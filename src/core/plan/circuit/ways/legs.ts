/**
 * Minutes from spot to spot and to the paddock over the ways that may be used while the track is hot. The van, where there is
 * one, stands where the spot is reached soonest from the paddock, and is never left behind: who walks from it walks back to it. Rules PL106, PL107.
 */
import type { SpotId } from '../../../ids.js';
import type { Point } from '../../../numeric/localPlane.js';
import { type Metres, metresOf } from '../../../units.js';
import { distanceBetween } from '../segments.js';
import { layTrack, placeOf, type Track } from '../track.js';
import type { Access, Circuit, Place } from '../types.js';
import { type Edge, layNetwork, type Network, type Stop } from './network.js';
import { edgesTo, quickestFrom, type Reached } from './shortest.js';

/** Common practice, no source: with 10–15 kg over rough ground; at a crawl with hazard lights. */
export const USUAL_PACE = { onFootMPerMin: 70, byVehicleMPerMin: 250 } as const;
/** Common practice, no source: pack up and set up again; load the van and park it. */
export const USUAL_PACKING = { onFootMin: 4, byVehicleMin: 6 } as const;

export interface Means {
  /** For ways that need one. */
  readonly hasPermit: boolean;
  readonly hasVehicle: boolean;
}

export interface LegPart {
  /** Null: the last steps over open ground, or from one way to the next. */
  readonly way: string | null;
  readonly by: 'foot' | 'vehicle';
  readonly metres: Metres;
}

export interface Leg {
  /** Under way; packing not counted. */
  readonly minutes: number;
  readonly metres: Metres;
  readonly parts: readonly LegPart[];
  /** On the ground, from one stop to the other. */
  readonly line: readonly Place[];
  /** True where every minute of it follows from lengths and usual paces; false where a person said some. */
  readonly isByUsualPace: boolean;
}

const mayUse = (access: Access, { hasPermit }: Means): boolean =>
  access === 'anyone' || (access === 'with-permit' && hasPermit);

const footMinutes =
  (means: Means) =>
  ({ way, metres, wayM }: Edge): number | null => {
    if (way === null) return metres / USUAL_PACE.onFootMPerMin;
    if (!mayUse(way.onFoot, means)) return null;
    const said = way.saidMinutes?.onFoot;
    return said === undefined || wayM === 0 ? metres / USUAL_PACE.onFootMPerMin : said * (metres / wayM);
  };

const vehicleMinutes =
  (means: Means) =>
  ({ way, metres, wayM, isGround }: Edge): number | null => {
    if (way === null) return isGround ? null : metres / USUAL_PACE.byVehicleMPerMin;
    if (!mayUse(way.byVehicle, means)) return null;
    const said = way.saidMinutes?.byVehicle;
    return said === undefined || wayM === 0 ? metres / USUAL_PACE.byVehicleMPerMin : said * (metres / wayM);
  };

export interface Travel {
  /** Null: no way that may be used while the track is hot. */
  legBetween(from: Stop, to: Stop): Leg | null;
}

export function travelOver(circuit: Circuit, means: Means): Travel {
  const track = layTrack(circuit);
  const network = layNetwork(circuit, track);
  const onFoot = remembered((node) => quickestFrom(network.leaving, node, footMinutes(means)));
  const byVehicle = remembered((node) => quickestFrom(network.leaving, node, vehicleMinutes(means)));
  const vanAt = remembered((node) => (means.hasVehicle ? vanPlace(network, onFoot(node), byVehicle) : null));

  return {
    legBetween: (from, to) => {
      const [start, end] = [network.stops.get(from), network.stops.get(to)];
      if (start === undefined || end === undefined) return null;
      const [van, vanThere] = [vanAt(start), vanAt(end)];
      if (van === null || vanThere === null || van === vanThere)
        return onFoot(start).has(end) ? legOf(walked(onFoot(start), end), track) : null;
      const drive = byVehicle(van);
      const isReached = onFoot(start).has(van) && drive.has(vanThere) && onFoot(vanThere).has(end);
      if (!isReached) return null;
      const steps = [
        ...walked(onFoot(start), van),
        ...edgesTo(drive, vanThere).map((edge) => stepBy('vehicle', edge)),
        ...walked(onFoot(vanThere), end),
      ];
      return legOf(steps, track);
    },
  };

  function stepBy(by: Step['by'], edge: Edge): Step {
    return { edge, by, minutes: (by === 'foot' ? footMinutes : vehicleMinutes)(means)(edge)! };
  }
  function walked(reached: ReadonlyMap<number, Reached>, end: number): Step[] {
    return edgesTo(reached, end).map((edge) => stepBy('foot', edge));
  }
}

/** Where the van waits for somebody at a stop: where the way there from the paddock is quickest, loading counted. */
function vanPlace(
  network: Network,
  walks: ReadonlyMap<number, Reached>,
  byVehicle: (node: number) => ReadonlyMap<number, Reached>,
): number {
  const paddock = network.stops.get('paddock')!;
  const loading = USUAL_PACKING.byVehicleMin - USUAL_PACKING.onFootMin;
  let best = { node: paddock, minutes: walks.get(paddock)?.minutes ?? Number.POSITIVE_INFINITY };
  for (const [node, drive] of byVehicle(paddock)) {
    const minutes = drive.minutes + loading + (walks.get(node)?.minutes ?? Number.POSITIVE_INFINITY);
    if (minutes < best.minutes) best = { node, minutes };
  }
  return best.node;
}

interface Step {
  readonly edge: Edge;
  readonly by: 'foot' | 'vehicle';
  readonly minutes: number;
}
/** A spot on the way itself is hung on it by nothing worth a word. */
const LEAST_M = 0.5;

function legOf(steps: readonly Step[], { plane }: Track): Leg {
  const parts: LegPart[] = [];
  for (const { edge, by } of steps.filter(({ edge: one }) => one.metres >= LEAST_M)) {
    const way = edge.way?.id ?? null;
    const last = parts.at(-1);
    if (last !== undefined && last.way === way && last.by === by)
      parts[parts.length - 1] = { ...last, metres: metresOf(last.metres + edge.metres) };
    else parts.push({ way, by, metres: metresOf(edge.metres) });
  }
  return {
    minutes: steps.reduce((sum, { minutes }) => sum + minutes, 0),
    metres: metresOf(steps.reduce((sum, { edge }) => sum + edge.metres, 0)),
    parts,
    line: lineOver(steps).map((point) => placeOf(plane, point)),
    isByUsualPace: steps.every(({ edge, by }) =>
      by === 'foot' ? edge.way?.saidMinutes?.onFoot === undefined : edge.way?.saidMinutes?.byVehicle === undefined,
    ),
  };
}

/** One edge ends where the next begins: that point is kept once. */
const lineOver = (steps: readonly Step[]): readonly Point[] =>
  steps
    .flatMap(({ edge }) => edge.line)
    .filter((point, i, all) => i === 0 || distanceBetween(point, all[i - 1]!) > LEAST_M / 10);

/** From each stop to each in minutes with packing and setting up, as the day's solver takes it; null: no way. */
export function minutesBetween(
  circuit: Circuit,
  stops: readonly (SpotId | 'paddock')[],
  means: Means,
): (number | null)[][] {
  const travel = travelOver(circuit, means);
  return stops.map((from) =>
    stops.map((to) => {
      if (from === to) return 0;
      const leg = travel.legBetween(from, to);
      return leg === null ? null : leg.minutes + packingOf(leg);
    }),
  );
}

export const packingOf = (leg: Leg): number =>
  leg.parts.some(({ by }) => by === 'vehicle') ? USUAL_PACKING.byVehicleMin : USUAL_PACKING.onFootMin;

function remembered<T>(work: (node: number) => T): (node: number) => T {
  const known = new Map<number, T>();
  return (node) => {
    if (!known.has(node)) known.set(node, work(node));
    return known.get(node)!;
  };
}
