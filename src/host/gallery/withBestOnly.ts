/** A day of which one picture of each rider is kept, the one that goes up first: what a gallery can stand with while the rest is made. */
import { takedownsOf } from '../../core/finish/index.js';
import { firstKeeperOf } from '../../core/handover/index.js';
import type { DayState } from '../day/types.js';

export function withBestOnly<State extends Pick<DayState, 'arrangement' | 'keepers' | 'log'>>(state: State): State {
  const { frames } = takedownsOf(state.arrangement, state.log);
  const byRider = state.arrangement.riders.map((rider) => {
    const kept = state.keepers.byRider.get(rider.key) ?? [];
    const first = firstKeeperOf(
      rider,
      kept.filter(({ bike }) => !frames.has(bike.frameId)),
    );
    return [rider.key, first === undefined ? [] : [first]] as const;
  });
  return { ...state, keepers: { ...state.keepers, byRider: new Map(byRider) } };
}
