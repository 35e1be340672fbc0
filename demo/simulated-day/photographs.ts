/** What photographers with limited attention shoot of a day: bursts, dividers, pauses, changes of body. */
import { type Random, seededRandom } from '../../src/core/numeric/random.js';
import type { ApartShot } from './apartShots.js';
import type { DayOptions } from './options.js';
import type { GoingBy, SimulatedSession } from './trackDay.js';

export interface ShotBike {
  readonly rider: number;
  readonly pass: string;
  /** Left edge of its box, 0–1. */
  readonly left: number;
}

export interface SimulatedShot {
  readonly wall: number;
  readonly body: number;
  /** Index of the session; −1 for what was taken outside one. */
  readonly session: number;
  readonly spot: number;
  readonly isDivider: boolean;
  readonly bikes: readonly ShotBike[];
  /** Of the paddock, the podium or the briefing. */
  readonly apart?: ApartShot;
}

const FRAMES_PER_S = 8;

/** One photographer in one session. */
export function photographSession(
  o: DayOptions,
  session: SimulatedSession,
  index: number,
  goingBy: readonly GoingBy[],
  spot: number,
  bodies: readonly number[],
): readonly SimulatedShot[] {
  const random = seededRandom(o.seed * 15_485_863 + index * 31 + spot * 7 + bodies[0]! * 3);
  const shots = dividersOf(o, session, index, spot, bodies, random);
  const away = pauses(session, random);
  let body = bodies[0]!;
  let busyUntil = Number.NEGATIVE_INFINITY;
  const everyBody = new Set<number>();
  goingBy.forEach((event, e) => {
    const isAway = away.some(([from, to]) => event.wall > from && event.wall < to);
    if (event.wall < busyUntil || isAway) return;
    if (!random.chance(Math.min(0.97, o.attention))) return;
    if (bodies.length > 1 && random.chance(everyBody.size < bodies.length ? 0.2 : 0.12)) body = random.oneOf(bodies);
    everyBody.add(body);
    const count = random.integer(o.burstFrames[0], o.burstFrames[1]);
    const first = event.wall - 1000 * random.between(0.1, 0.4);
    for (let k = 0; k < count; k++) {
      const wall = Math.round(first + (1000 * k) / FRAMES_PER_S + random.between(-8, 8));
      shots.push({ wall, body, session: index, spot, isDivider: false, bikes: bikesAt(goingBy, e, wall, random) });
    }
    busyUntil = first + (1000 * count) / FRAMES_PER_S + 1000 * random.between(0.6, 2.2);
  });
  return shots;
}

/** The bike aimed at, and whoever is within four tenths of a second of the middle of the picture. */
function bikesAt(goingBy: readonly GoingBy[], aimed: number, wall: number, random: Random): readonly ShotBike[] {
  const bikes: ShotBike[] = [];
  for (let e = Math.max(0, aimed - 4); e < Math.min(goingBy.length, aimed + 5); e++) {
    const { rider, pass, wall: at } = goingBy[e]!;
    const isThere = e === aimed || (Math.abs(wall - at + 100) < 420 && random.chance(0.85));
    if (!isThere || random.chance(0.04) || bikes.some((bike) => bike.rider === rider)) continue;
    bikes.push({ rider, pass, left: e === aimed ? 0.35 : at < goingBy[aimed]!.wall ? 0.68 : 0.02 });
  }
  return bikes.filter((bike, i) => bikes.findIndex(({ left }) => left === bike.left) === i);
}

/** Every so often one looks at the screen, drinks, walks a few steps. */
function pauses(session: SimulatedSession, random: Random): readonly (readonly [number, number])[] {
  const list: [number, number][] = [];
  for (let at = session.start + 1000 * random.between(60, 300); at < session.end; at += 1000 * random.between(250, 500))
    list.push([at, at + 1000 * random.between(15, 70)]);
  return list;
}

function dividersOf(
  o: DayOptions,
  session: SimulatedSession,
  index: number,
  spot: number,
  bodies: readonly number[],
  random: Random,
): SimulatedShot[] {
  if (!o.dividers.areUsed || o.dividers.forgotten.includes(session.name)) return [];
  const at = (wall: number, body: number): SimulatedShot => ({
    wall: Math.round(wall),
    body,
    session: index,
    spot,
    isDivider: true,
    bikes: [],
  });
  // All photographers hear the same call.
  const call = seededRandom(o.seed * 32_452_843 + index);
  const first =
    session.start + 1000 * (call.between(-20, 10) + (bodies[0] === 0 ? 0 : random.between(...o.dividers.lagS)));
  const shots = [at(first, bodies[0]!)];
  for (const body of bodies.slice(1)) shots.push(at(first + 1000 * random.between(...o.dividers.lagS), body));
  if (o.dividers.doubled.includes(session.name)) shots.push(at(first - 1000 * random.between(2, 45), bodies[0]!));
  return shots;
}
