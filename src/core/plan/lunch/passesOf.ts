/** Passes in pictures that a plan may be expected to give, by group and spot. */
import type { SpotId } from '../../ids.js';
import { minutesOf } from '../day/legs.js';
import type { Stay, Stretch } from '../day/types.js';
import { DAY_WORTH } from '../day/worthOfStretch.js';
import type { YieldAt } from './types.js';

/** Before anything was seen of a group: the trade's figures, as where the coverage begins from. */
const NOTHING_SEEN = { framesAMinute: 0.2, framesAPass: 2 };

export class Yields {
  readonly #known: ReadonlyMap<string, YieldAt>;

  constructor(yields: readonly YieldAt[]) {
    this.#known = new Map(yields.map((one) => [`${one.group}|${one.spot ?? ''}`, one]));
  }

  at(group: string, spot: SpotId): Pick<YieldAt, 'framesAMinute' | 'framesAPass'> {
    return this.#known.get(`${group}|${spot}`) ?? this.#known.get(`${group}|`) ?? NOTHING_SEEN;
  }

  framesAPass(group: string): number {
    return this.#known.get(`${group}|`)?.framesAPass ?? NOTHING_SEEN.framesAPass;
  }

  /** Of a rider who is out for this stretch. */
  passesIn({ group, from, to, slot, name }: Stretch, spot: SpotId): number {
    const ends = slot === name ? 2 : 1;
    const minutes = Math.max(0, minutesOf(to - from) - ends * DAY_WORTH.rollingMinutes);
    const { framesAMinute, framesAPass } = this.at(group, spot);
    return (minutes * framesAMinute) / framesAPass;
  }
}

/** Two photographers at one spot see what one would. */
export function passesOf(
  group: string,
  stretches: readonly Stretch[],
  stays: readonly Stay[],
  yields: Yields,
): Map<SpotId, number> {
  const passes = new Map<SpotId, number>();
  for (const stretch of stretches) {
    if (stretch.group !== group) continue;
    const spots = new Set(
      stays.flatMap((stay) => (stay.stretch === stretch.name && stay.spot !== null ? [stay.spot] : [])),
    );
    for (const spot of spots) passes.set(spot, (passes.get(spot) ?? 0) + yields.passesIn(stretch, spot));
  }
  return passes;
}
