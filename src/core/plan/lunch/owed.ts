/**
 * What a stretch at a spot would bring those who are owed something, by itself: for each rider of the group,
 * what the set would be worth with it less what it is worth now. Rule PL1207.
 */
import type { RiderKey, SpotId } from '../../ids.js';
import type { Demand } from '../day/inputs.js';
import type { Stretch } from '../day/types.js';
import { AFTERNOON_AIM } from './aim.js';
import { expectedOf } from './expected.js';
import type { Yields } from './passesOf.js';
import type { OwedRider, YieldAt } from './types.js';

export interface OwedMorning {
  readonly owed: readonly OwedRider[];
  readonly yields: readonly YieldAt[];
  /** Riders whom no picture shows, by group: they are owed everything. */
  readonly neverShown: ReadonlyMap<string, number>;
  /** How unlike riders come into pictures: the size of a negative binomial. */
  readonly spread: number;
}

/** Somebody who has enough is still worth a further picture; otherwise nobody would be stood for at the day's end. */
const FURTHER = 0.02;
/** Half an afternoon's session that brings a whole group of usual size this much is worth 1. */
const FULL_GAIN = 0.25;

export function demandsOf(
  { owed, neverShown, spread }: OwedMorning,
  yields: Yields,
  stretches: readonly Stretch[],
  spots: readonly SpotId[],
): Demand[] {
  const groups = [...new Set(stretches.map(({ group }) => group))];
  const size = Math.max(1, owed.length / Math.max(1, groups.length));
  return stretches.flatMap((stretch) => {
    const own = withUnseen({ owed, neverShown }, stretch.group);
    return spots.map((spot): Demand => {
      const passes = new Map([[spot, yields.passesIn(stretch, spot)]]);
      const rates = { framesAPass: yields.framesAPass(stretch.group), spread };
      const gain = own.reduce((sum, { rider, count }) => {
        const more = expectedOf(rider, passes, rates, AFTERNOON_AIM).worth;
        return sum + count * (more - expectedOf(rider, new Map(), rates, AFTERNOON_AIM).worth + FURTHER * rider.often);
      }, 0);
      const lacking = own.filter(({ rider }) => !rider.good.has(spot)).reduce((sum, { count }) => sum + count, 0);
      const riders = own.reduce((sum, { count }) => sum + count, 0);
      const unseen = neverShown.get(stretch.group) ?? 0;
      const who = { group: stretch.group, stretch: stretch.name, spot, riders, unseen, lacking };
      return { ...who, owed: gain / size / FULL_GAIN };
    });
  });
}

const NOBODY = 'never-shown' as RiderKey;
const USUALLY_OUT = 0.9;

/** A group's riders, and those whom no picture shows as one of whom there are so many. */
export function withUnseen({ owed, neverShown }: Pick<OwedMorning, 'owed' | 'neverShown'>, group: string) {
  const unseen = neverShown.get(group) ?? 0;
  return [
    ...owed.filter((rider) => rider.group === group).map((rider) => ({ rider, count: 1 })),
    ...(unseen > 0 ? [{ rider: { rider: NOBODY, group, often: USUALLY_OUT, good: new Map() }, count: unseen }] : []),
  ];
}
