/** What riders' sets may be expected to be worth at the end of the day, by a plan for the rest of it. */
import type { Stay, Stretch } from '../day/types.js';
import { AFTERNOON_AIM } from './aim.js';
import { expectedOf } from './expected.js';
import { type OwedMorning, withUnseen } from './owed.js';
import { type Outlook, passesOf, Yields } from './passesOf.js';

/** Plans that are tried one after the other differ in a group or two: what a group's stays give is kept. */
export class SetsWorth {
  readonly #yields: Yields;
  readonly #kept = new Map<string, number>();
  readonly #groups: readonly { readonly group: string; readonly names: readonly string[] }[];

  readonly #morning: OwedMorning;
  readonly #stretches: readonly Stretch[];

  constructor(morning: OwedMorning, outlook: Outlook, stretches: readonly Stretch[]) {
    this.#morning = morning;
    this.#stretches = stretches;
    this.#yields = new Yields(morning.yields, outlook);
    this.#groups = [...new Set(stretches.map(({ group }) => group))].map((group) => ({
      group,
      names: stretches.filter((stretch) => stretch.group === group).map(({ name }) => name),
    }));
  }

  of(stays: readonly Stay[]): number {
    const at = new Map<string, string>();
    for (const { stretch, spot } of stays) if (spot !== null) at.set(stretch, `${at.get(stretch) ?? ''} ${spot}`);
    return this.#groups.reduce((sum, { group, names }) => {
      const key = `${group}|${names.map((name) => at.get(name) ?? '').join('|')}`;
      const known = this.#kept.get(key) ?? this.#ofGroup(group, stays);
      this.#kept.set(key, known);
      return sum + known;
    }, 0);
  }

  #ofGroup(group: string, stays: readonly Stay[]): number {
    const passes = passesOf(group, this.#stretches, stays, this.#yields);
    const rates = { framesAPass: this.#yields.framesAPass(group), spread: this.#morning.spread };
    return withUnseen(this.#morning, group).reduce(
      (sum, { rider, count }) => sum + count * expectedOf(rider, passes, rates, AFTERNOON_AIM).worth,
      0,
    );
  }
}
