/** Words about the plan that is to be made: each answers all wishes as they would stand then. */
import type { SpotId } from '../../core/ids.js';
import type { Decision } from '../../core/log/types.js';
import type { Wish } from '../../core/plan/day/types.js';
import type { PlanView } from '../../server/planTypes.js';
import type { Chosen } from './planChoice.js';

type Said = Pick<PlanView, 'wishes' | 'photographers' | 'hasVehicle'>;

const wishesOf = ({ wishes }: Said): readonly Wish[] => wishes.map(({ wish }) => wish);

export const wishing = (
  { photographers, hasVehicle }: Said,
  wishes: readonly Wish[],
): Extract<Decision, { kind: 'wishes' }> => ({ kind: 'wishes', wishes, photographers, hasVehicle });

/** A pin takes the place of what was said of the same session before; one spot at a time, unless two share the day. */
export function pinned(said: Said, { spot, sessions }: Chosen): readonly Wish[] {
  const names = sessions.map(({ name }) => name);
  const isReplaced = (wish: Wish) =>
    'stretch' in wish &&
    names.some((name) => isOf(wish.stretch, name)) &&
    (wish.spot === spot.id || (wish.kind === 'pin' && said.photographers === 1));
  return [
    ...wishesOf(said).filter((wish) => !isReplaced(wish)),
    ...names.map((stretch): Wish => ({ kind: 'pin', stretch, spot: spot.id })),
  ];
}

export function forbidden(said: Said, { spot, sessions }: Chosen): readonly Wish[] {
  const names = sessions.map(({ name }) => name);
  const isReplaced = (wish: Wish) =>
    'stretch' in wish && wish.spot === spot.id && names.some((name) => isOf(wish.stretch, name));
  return [
    ...wishesOf(said).filter((wish) => !isReplaced(wish)),
    ...names.map((stretch): Wish => ({ kind: 'forbid', stretch, spot: spot.id })),
  ];
}

const isOf = (stretch: string, session: string): boolean => stretch === session || stretch.startsWith(`${session} `);

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

/** As it stands is no wish. */
export function weighedSpot(said: Said, spot: SpotId, times: number): readonly Wish[] {
  const others = wishesOf(said).filter((wish) => wish.kind !== 'weigh-spot' || wish.spot !== spot);
  return times === 1 ? others : [...others, { kind: 'weigh-spot', spot, times }];
}

export function weighedGroup(said: Said, group: string, times: number): readonly Wish[] {
  const others = wishesOf(said).filter((wish) => wish.kind !== 'weigh-group' || wish.group !== group);
  return times === 1 ? others : [...others, { kind: 'weigh-group', group, times }];
}

export const without = (said: Said, index: number): readonly Wish[] => wishesOf(said).filter((_, i) => i !== index);
