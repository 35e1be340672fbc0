/** Passes in pictures that a plan may be expected to give, by group and spot. */
import type { SpotId } from '../../ids.js';
import { type WallMs, wallMsOf } from '../../units.js';
import type { DayInputs } from '../day/inputs.js';
import { minutesOf } from '../day/legs.js';
import type { Stay, Stretch } from '../day/types.js';
import { DAY_WORTH, rainsIn } from '../day/worthOfStretch.js';
import type { YieldAt } from './types.js';

/** Before anything was seen of a group: the trade's figures, as where the coverage begins from. */
const NOTHING_SEEN = { framesAMinute: 0.2, framesAPass: 2 };

/** What is known of the hours to come. */
export type Outlook = Pick<DayInputs, 'lightAt' | 'wishes'>;

/**
 * The morning's rates, for the light of another hour: bad light spoils good frames, though not as many as it costs in looks, so
 * they go with the root of its share. An assumption.
 */
export class Yields {
  readonly #known: ReadonlyMap<string, YieldAt>;
  readonly #outlook: Outlook;
  readonly #kept = new Map<string, number>();

  constructor(yields: readonly YieldAt[], outlook: Outlook) {
    this.#known = new Map(yields.map((one) => [`${one.group}|${one.spot ?? ''}`, one]));
    this.#outlook = outlook;
  }

  framesAPass(group: string): number {
    return this.#known.get(`${group}|`)?.framesAPass ?? NOTHING_SEEN.framesAPass;
  }

  /** Of a rider who is out for this stretch. */
  passesIn(stretch: Stretch, spot: SpotId): number {
    const key = `${stretch.name}|${spot}`;
    const passes = this.#kept.get(key) ?? this.#passesIn(stretch, spot);
    this.#kept.set(key, passes);
    return passes;
  }

  #passesIn(stretch: Stretch, spot: SpotId): number {
    const { group, from, to, slot, name } = stretch;
    const ends = slot === name ? 2 : 1;
    const minutes = Math.max(0, minutesOf(to - from) - ends * DAY_WORTH.rollingMinutes);
    const { framesAMinute, framesAPass, seenAt } = this.#at(group, spot);
    const then = seenAt === null ? this.#usualThen(group) : this.#byLight(spot, seenAt);
    const now = this.#byLight(spot, wallMsOf((from + to) / 2));
    const out = rainsIn(this.#outlook.wishes, stretch) ? DAY_WORTH.rain : 1;
    return (
      (out * minutes * framesAMinute * (then === null ? Math.sign(now) : now / Math.max(LEAST_LIGHT, then))) /
      framesAPass
    );
  }

  #at(group: string, spot: SpotId): Pick<YieldAt, 'framesAMinute' | 'framesAPass' | 'seenAt'> {
    return this.#known.get(`${group}|${spot}`) ?? this.#known.get(`${group}|`) ?? { ...NOTHING_SEEN, seenAt: null };
  }

  #byLight(spot: SpotId, at: WallMs): number {
    return Math.sqrt(this.#outlook.lightAt(spot, at).share);
  }

  /** In the light that the group was seen in; null: it was not. */
  #usualThen(group: string): number | null {
    const seen = [...this.#known.values()].flatMap((one) =>
      one.group === group && one.spot !== null && one.seenAt !== null ? [this.#byLight(one.spot, one.seenAt)] : [],
    );
    return seen.length === 0 ? null : seen.reduce((sum, one) => sum + one, 0) / seen.length;
  }
}

/** Frames were had in it, so it was no worse. */
const LEAST_LIGHT = 0.3;

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
