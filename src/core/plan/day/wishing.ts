/** All wishes as they would stand after one more: what was said of the same thing before gives way. */
import type { SpotId } from '../../ids.js';
import type { Wish } from './types.js';

/** A pin takes the place of what was said of the same session before; one spot at a time, unless two share the day. */
export function pinning(
  wishes: readonly Wish[],
  { sessions, spot, photographers }: { sessions: readonly string[]; spot: SpotId; photographers: number },
): readonly Wish[] {
  const isReplaced = (wish: Wish) =>
    'stretch' in wish &&
    sessions.some((name) => isOf(wish.stretch, name)) &&
    (wish.spot === spot || (wish.kind === 'pin' && photographers === 1));
  return [
    ...wishes.filter((wish) => !isReplaced(wish)),
    ...sessions.map((stretch): Wish => ({ kind: 'pin', stretch, spot })),
  ];
}

export function forbidding(wishes: readonly Wish[], sessions: readonly string[], spot: SpotId): readonly Wish[] {
  const isReplaced = (wish: Wish) =>
    'stretch' in wish && wish.spot === spot && sessions.some((name) => isOf(wish.stretch, name));
  return [
    ...wishes.filter((wish) => !isReplaced(wish)),
    ...sessions.map((stretch): Wish => ({ kind: 'forbid', stretch, spot })),
  ];
}

const isOf = (stretch: string, session: string): boolean => stretch === session || stretch.startsWith(`${session} `);

/** As it stands is no wish. */
export function weighingSpot(wishes: readonly Wish[], spot: SpotId, times: number): readonly Wish[] {
  const others = wishes.filter((wish) => wish.kind !== 'weigh-spot' || wish.spot !== spot);
  return times === 1 ? others : [...others, { kind: 'weigh-spot', spot, times }];
}

export function weighingGroup(wishes: readonly Wish[], group: string, times: number): readonly Wish[] {
  const others = wishes.filter((wish) => wish.kind !== 'weigh-group' || wish.group !== group);
  return times === 1 ? others : [...others, { kind: 'weigh-group', group, times }];
}
