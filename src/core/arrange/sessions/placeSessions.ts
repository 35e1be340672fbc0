/** Ordered exposures → sessions, and which session each exposure belongs to. */
import type { FrameId } from '../../ids.js';
import type { Timetable } from '../../plan/types.js';
import type { WallMs } from '../../units.js';
import type { Words } from '../decisions.js';
import type { Exposure, Session } from '../types.js';
import { splitSessions } from './splitSessions.js';

export interface PlaceInput {
  /** In the order of the day. */
  readonly frameIds: readonly FrameId[];
  readonly walls: readonly (WallMs | null)[];
  readonly roles: readonly Exposure['role'][];
  /** These make no session and are in none. */
  readonly isApart?: readonly boolean[];
  readonly timetable: Timetable | null;
  readonly words: Pick<Words, 'boundaries' | 'groups'>;
}

/** How much a picture speaks for track time. */
const WEIGHTS: Readonly<Record<Exposure['role'], number>> = {
  bike: 1,
  unmeasured: 0.5,
  unmeasurable: 0.5,
  scenery: 0.1,
  divider: 0,
};

export function placeSessions({ frameIds, walls, roles, isApart, timetable, words }: PlaceInput): {
  readonly sessions: readonly Session[];
  /** Per exposure; −1 outside every session. */
  readonly sessionOf: Int32Array;
} {
  const timed = frameIds.map((_, i) => i).filter((i) => walls[i] !== null && isApart?.[i] !== true);
  const shots = timed.filter((i) => roles[i] !== 'divider');
  const split = splitSessions({
    shots: shots.map((i) => ({ wall: walls[i]!, weight: WEIGHTS[roles[i]!] })),
    dividers: timed.filter((i) => roles[i] === 'divider').map((i) => ({ wall: walls[i]! })),
    timetable,
    boundaryWords: words.boundaries,
    groupWords: words.groups,
  });
  const sessionOf = new Int32Array(frameIds.length).fill(-1);
  shots.forEach((i, s) => {
    sessionOf[i] = split.sessionOf[s]!;
  });
  placeUntimed(walls, sessionOf, isApart);
  const framesOf: FrameId[][] = split.sessions.map(() => []);
  frameIds.forEach((frameId, i) => {
    framesOf[sessionOf[i]!]?.push(frameId);
  });
  return {
    sessions: split.sessions.map((session, index) => ({ index, ...session, frames: framesOf[index]! })),
    sessionOf,
  };
}

/** A frame without a time belongs to a session when its neighbours on both sides do. */
function placeUntimed(walls: readonly (WallMs | null)[], sessionOf: Int32Array, isApart: PlaceInput['isApart']): void {
  walls.forEach((wall, i) => {
    if (wall !== null || i === 0 || isApart?.[i] === true) return;
    let next = i + 1;
    while (next < walls.length && walls[next] === null) next++;
    const before = sessionOf[i - 1]!;
    if (next < walls.length && before === sessionOf[next]) sessionOf[i] = before;
  });
}
