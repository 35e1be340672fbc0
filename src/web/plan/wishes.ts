/** Words about the plan that is to be made: each answers all wishes as they would stand then. */
import type { SpotId } from '../../core/ids.js';
import type { Decision } from '../../core/log/types.js';
import type { Wish } from '../../core/plan/day/types.js';
import { forbidding, pinning, weighingGroup, weighingSpot } from '../../core/plan/day/wishing.js';
import type { PlanView } from '../../server/planTypes.js';
import type { Chosen } from './planChoice.js';

type Said = Pick<PlanView, 'wishes' | 'photographers' | 'hasVehicle'>;

const wishesOf = ({ wishes }: Said): readonly Wish[] => wishes.map(({ wish }) => wish);

export const wishing = (
  { photographers, hasVehicle }: Said,
  wishes: readonly Wish[],
): Extract<Decision, { kind: 'wishes' }> => ({ kind: 'wishes', wishes, photographers, hasVehicle });

export const pinned = (said: Said, { spot, sessions }: Chosen): readonly Wish[] =>
  pinning(wishesOf(said), {
    sessions: sessions.map(({ name }) => name),
    spot: spot.id,
    photographers: said.photographers,
  });

export const forbidden = (said: Said, { spot, sessions }: Chosen): readonly Wish[] =>
  forbidding(
    wishesOf(said),
    sessions.map(({ name }) => name),
    spot.id,
  );

export const closed = (said: Said, { spot, from, to }: Chosen): readonly Wish[] => [
  ...wishesOf(said),
  { kind: 'closed', spot: spot.id, from, to },
];

export const rested = (said: Said, { from, to }: Chosen): readonly Wish[] => [
  ...wishesOf(said),
  { kind: 'rest', from, to },
];

export const rained = (said: Said, { from, to }: Chosen): readonly Wish[] => [
  ...wishesOf(said),
  { kind: 'rain', from, to },
];

export const weighedSpot = (said: Said, spot: SpotId, times: number): readonly Wish[] =>
  weighingSpot(wishesOf(said), spot, times);

export const weighedGroup = (said: Said, group: string, times: number): readonly Wish[] =>
  weighingGroup(wishesOf(said), group, times);

export const without = (said: Said, index: number): readonly Wish[] => wishesOf(said).filter((_, i) => i !== index);
