/** A day of which one best picture of each rider is kept: what a gallery can stand with while the rest is made. */
import { takedownsOf } from '../../core/finish/index.js';
import type { DayState } from '../day/types.js';

export function withBestOnly<State extends Pick<DayState, 'arrangement' | 'keepers' | 'log'>>(state: State): State {
  const { frames } = takedownsOf(state.arrangement, state.log);
  const byRider = [...state.keepers.byRider].map(([rider, keepers]) => {
    const best = keepers.find(({ bike }) => !frames.has(bike.frameId));
    return [rider, best === undefined ? [] : [best]] as const;
  });
  return { ...state, keepers: { ...state.keepers, byRider: new Map(byRider) } };
}
