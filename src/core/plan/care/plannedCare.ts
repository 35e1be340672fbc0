/** What a plan asks of whoever walks it: stays with their distances, metres on foot, service roads. */
import type { SpotId } from '../../ids.js';
import { type Metres, metresOf, wallMsOf } from '../../units.js';
import type { Way } from '../circuit/types.js';
import type { Stay, Stretch } from '../day/types.js';
import type { Stand, TimetableSlot } from '../types.js';
import { careStaysOf, type PlannedDay } from './staysOfPlan.js';
import type { CareStay } from './types.js';

export interface CareOfPlan {
  readonly stays: readonly CareStay[];
  /** Absent where no way is drawn for some leg. */
  readonly walkedM?: Metres;
  readonly usesServiceRoad: boolean;
}

/** A way from stop to stop, whoever found it; parts on no way are steps over open ground. */
export interface WalkedLeg {
  readonly metres: number;
  readonly parts: readonly { readonly way: string | null }[];
}

export interface PlanToWalk extends PlannedDay {
  readonly photographer: number;
  readonly ways: readonly Pick<Way, 'id' | 'kind'>[];
  /** On foot; null: none that may be used while the track is hot. */
  legBetween(from: SpotId | 'paddock', to: SpotId | 'paddock'): WalkedLeg | null;
}

/** A longer gap between two stays is lunch, and the cards are at the van. */
const LUNCH_MS = 40 * 60_000;

export function careOfPlan(plan: PlanToWalk): CareOfPlan {
  const stays = careStaysOf(plan, plan.photographer);
  const stops = stopsOf(stays);
  const legs = stops.slice(1).flatMap((to, i) => (to === stops[i] ? [] : [plan.legBetween(stops[i]!, to)]));
  const roads = new Set(plan.ways.filter(({ kind }) => kind === 'service-road').map(({ id }) => id));
  const walked = legs.filter((leg) => leg !== null);
  const isAll = stays.length > 0 && walked.length === legs.length;
  return {
    stays,
    ...(isAll ? { walkedM: metresOf(walked.reduce((sum, leg) => sum + leg.metres, 0)) } : {}),
    usesServiceRoad: walked.some((leg) => isOn(leg, roads)),
  };
}

const isOn = ({ parts }: WalkedLeg, roads: ReadonlySet<string>): boolean =>
  parts.some(({ way }) => way !== null && roads.has(way));

/** From the van and back to it, and to it at lunch. */
function stopsOf(stays: readonly CareStay[]): readonly (SpotId | 'paddock')[] {
  const between = stays.flatMap((stay, i): readonly (SpotId | 'paddock')[] => {
    const before = stays[i - 1];
    return before !== undefined && stay.from - before.to > LUNCH_MS ? ['paddock', stay.spot.id] : [stay.spot.id];
  });
  return ['paddock', ...between, 'paddock'];
}

const LEAST_MS = 60_000;

/** A day made by hand: where one says that one stands, over the sessions that run meanwhile. */
export function staysOfStands(
  stands: readonly Stand[],
  slots: readonly TimetableSlot[],
): { readonly stays: readonly Stay[]; readonly stretches: readonly Stretch[] } {
  const parts = stands.flatMap(({ spot, from, to }, i) =>
    slots.flatMap((slot) => {
      const stretch: Stretch = {
        name: `${slot.name}, stand ${i + 1}`,
        slot: slot.name,
        group: slot.group,
        from: wallMsOf(Math.max(from, slot.start)),
        to: wallMsOf(Math.min(to, slot.end)),
        isSighting: slot.isSighting ?? false,
      };
      return stretch.to - stretch.from < LEAST_MS ? [] : [{ stretch, spot }];
    }),
  );
  return {
    stays: parts.map(({ stretch, spot }) => ({ photographer: 0, stretch: stretch.name, spot })),
    stretches: parts.map(({ stretch }) => stretch),
  };
}
