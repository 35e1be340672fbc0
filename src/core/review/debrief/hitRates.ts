/** Hit rates of the day by how bikes were taken: rules RE1–RE3. */
import { clusteredShareOf } from '../../numeric/clusteredShare.js';
import { type WallMs, wallMsOf } from '../../units.js';
import { groupedBy, MOST_EVIDENCE } from '../kit/judgedBikes.js';
import type { Try } from './tries.js';
import type { HitRate, HourRate, Taken } from './types.js';

/** Fewer passes than this are said to be few (own convention: the range is then wider than half of all there is). */
export const FEW_PASSES = 10;
const HOUR_MS = 3_600_000;

export function hitRate(tries: readonly Try[], of: Taken): HitRate | null {
  const passes = [...groupedBy(tries, ({ pass }) => String(pass.index)).values()];
  const share = clusteredShareOf(passes.map((bikes) => ({ hits: count(bikes, 'hit'), trials: bikes.length })));
  if (share === null) return null;
  return {
    kind: 'measurement',
    of,
    bikes: tries.length,
    hits: count(tries, 'hit'),
    soft: count(tries, 'soft'),
    cut: count(tries, 'cut'),
    passes: passes.length,
    share,
    isFew: passes.length < FEW_PASSES,
    evidence: tries
      .filter(({ is }) => is !== 'hit')
      .slice(0, MOST_EVIDENCE)
      .map(({ frame }) => frame),
  };
}

const count = (tries: readonly Try[], what: Try['is']): number => tries.filter(({ is }) => is === what).length;

type Factor = keyof Taken;

/** By some of what was noted; a bike of which one of them is not known is left out. Most passes first, but shutters by time. */
export function hitRatesBy(tries: readonly Try[], factors: readonly Factor[]): readonly HitRate[] {
  const known = tries.filter(({ of }) => factors.every((factor) => of[factor] !== undefined));
  return [...groupedBy(known, ({ of }) => JSON.stringify(factors.map((factor) => of[factor]))).values()]
    .flatMap((same) => hitRate(same, only(same[0]!.of, factors)) ?? [])
    .sort(inOrder);
}

const only = (of: Taken, factors: readonly Factor[]): Taken =>
  Object.fromEntries(factors.map((factor) => [factor, of[factor]]));

const inOrder = (a: HitRate, b: HitRate): number =>
  compare(a.of.spot, b.of.spot) ||
  compare(a.of.group, b.of.group) ||
  (a.of.focalMm ?? 0) - (b.of.focalMm ?? 0) ||
  (a.of.shutterS ?? 0) - (b.of.shutterS ?? 0);

const compare = (a = '', b = ''): number => (a < b ? -1 : a > b ? 1 : 0);

/** By the hour on the circuit's clock. */
export function hitRatesByHour(tries: readonly Try[]): readonly HourRate[] {
  const timed = tries.filter((one): one is Try & { readonly wall: WallMs } => one.wall !== null);
  return [...groupedBy(timed, ({ wall }) => String(Math.floor(wall / HOUR_MS)))]
    .flatMap(([hour, same]) => {
      const rate = hitRate(same, {});
      return rate === null ? [] : [{ ...rate, hour: wallMsOf(Number(hour) * HOUR_MS) }];
    })
    .sort((a, b) => a.hour - b.hour);
}
