/** What a photographer brings home from a stretch at a spot, and what the program makes of it. */
import type { SpotId } from '../../../src/core/ids.js';
import { seededRandom } from '../../../src/core/numeric/random.js';
import type { Stood } from './followed.js';
import type { TrueDay } from './trueDay.js';

export interface ShotPass {
  readonly rider: number;
  readonly session: string;
  readonly spot: SpotId;
  readonly wall: number;
  /** Each frame: whether it is good. */
  readonly frames: readonly boolean[];
}

export type LookedFor = ReadonlySet<number>;
export const NOBODY: LookedFor = new Set();

export interface Chances {
  /** Share of good frames that the light leaves. */
  readonly light: number;
  /** Of several afternoons that might have been. */
  readonly luck: number;
}

/** In bursts of three to five; then it takes a moment to follow the next. */
const BURST = [3, 5] as const;
const BUSY_MS = 1500;
/**
 * To somebody looked for, until there are two bursts of them in this stretch: 8 of 10 where 5 are usual; invented. It costs the
 * others: bursts are as many, and one at a time.
 */
const WATCHED_TIMES = 1.6;
const BURSTS_OF_WATCHED = 2;
const SOFT_LENS = 0.15;

/** Luck hangs on day, stretch, spot and who goes by: whoever stands there has the same. */
export function photograph(
  day: TrueDay,
  { stretch, spot, lateMs }: Stood,
  { light, luck: nth }: Chances,
  watched: LookedFor,
): readonly ShotPass[] {
  const session = day.sessions.findIndex(({ name }) => name === stretch.slot);
  const { isAfternoon } = day.sessions[session]!;
  const place = day.spots.indexOf(spot);
  const skill = day.skillAt(spot, stretch.group);
  const chance = skill.good * light * (!isAfternoon && spot === day.troubles.softAt ? SOFT_LENS : 1);
  const goesBy = day.goesBy[session]![place]!;
  const here = new Set(goesBy.map(({ rider }) => rider));
  const left = new Map([...watched].filter((rider) => here.has(rider)).map((rider) => [rider, BURSTS_OF_WATCHED]));
  const share = left.size / Math.max(1, here.size);
  const toOthers =
    share === 0
      ? skill.attention
      : (skill.attention * Math.max(0, 1 - share * WATCHED_TIMES)) / Math.max(0.01, 1 - share);
  const random = seededRandom(day.seed * 7_368_787 + session * 1009 + place * 131 + nth * 15_485_863);
  let busyUntil = stretch.from + lateMs;
  return goesBy.flatMap(({ rider, wall }): readonly ShotPass[] => {
    const [look, count] = [random.next(), random.integer(...BURST)];
    const luck = Array.from({ length: BURST[1] }, () => random.next()).slice(0, count);
    if (wall < busyUntil || wall >= stretch.to) return [];
    const isLookedFor = (left.get(rider) ?? 0) > 0;
    const attention = isLookedFor ? skill.attention * WATCHED_TIMES : toOthers * day.riders[rider]!.interest;
    if (look >= Math.min(0.97, attention)) return [];
    if (isLookedFor) left.set(rider, left.get(rider)! - 1);
    busyUntil = wall + BUSY_MS;
    return [{ rider, session: stretch.slot, spot, wall, frames: luck.map((one) => one < chance) }];
  });
}

/** About what `accuracy simulated` gives: passes placed, wrong ones among them; and riders found in two pieces, assumed. */
const PLACED = 0.97;
const WRONG_OF_PLACED = 0.005;
const IN_PIECES = 0.05;

/** In order of time, by what the program calls the riders; what is not placed is left out. */
export function seenOf(day: TrueDay, shots: readonly ShotPass[]): readonly (ShotPass & { readonly as: string })[] {
  const random = seededRandom(day.seed * 2_750_159 + 3);
  const piecesFrom = day.riders.map(() => (random.chance(IN_PIECES) ? random.integer(2, 4) : Number.POSITIVE_INFINITY));
  return shots
    .toSorted((a, b) => a.wall - b.wall)
    .flatMap((shot) => {
      if (!random.chance(PLACED)) return [];
      const session = day.sessions.findIndex(({ name }) => name === shot.session);
      const goesBy = day.goesBy[session]![day.spots.indexOf(shot.spot)]!;
      const rider = random.chance(WRONG_OF_PLACED) ? random.oneOf(goesBy).rider : shot.rider;
      const isLater = day.sessions[session]!.round >= piecesFrom[rider]!;
      return [{ ...shot, as: `${rider}${isLater ? ' later' : ''}` }];
    });
}
