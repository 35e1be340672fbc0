/**
 * The most gain first, one by one, until nothing fits or gains.
 *
 * Under a limit on the number alone the set is worth at least 1 − 1/e of the best one (Nemhauser, Wolsey & Fisher, Mathematical
 * Programming 14, 1978, 265–294); under limits that form a matroid at least 1/2, under a p-extendible system at least 1/(p + 1)
 * (Fisher, Nemhauser & Wolsey, Mathematical Programming Study 8, 1978, 73–87; Calinescu et al., SIAM Journal on Computing 40,
 * 2011, appendix). Ours are of the last kind with p = 2, mostly with p = 1; see `room.ts`.
 *
 * A gain only shrinks as the set grows, so an old one is a bound, and only frames whose bound comes first are asked again
 * (Minoux, Optimization Techniques, Lecture Notes in Control and Information Sciences 7, 1978, 234–243).
 */
import type { Offer } from './offers.js';
import type { Room } from './room.js';
import type { GrowingSet } from './setWorth.js';

export interface Waiting {
  readonly offer: Offer;
  readonly gain: number;
}

/** `onTake` is told before the set has it. */
export function takeGreedily(
  set: GrowingSet,
  room: Room,
  offers: readonly Offer[],
  onTake: (taken: Waiting) => void,
): void {
  const queue = offers.map((offer): Waiting => ({ offer, gain: set.gainOf(offer) })).sort(lastFirst);
  for (let first = queue.pop(); first !== undefined; first = queue.pop()) {
    // What has no room now has none later.
    if (!room.mayTake(first.offer)) continue;
    const now = { offer: first.offer, gain: set.gainOf(first.offer) };
    const next = queue.at(-1);
    if (next !== undefined && lastFirst(now, next) < 0) {
      putBack(queue, now);
      continue;
    }
    onTake(now);
    set.add(now.offer);
    room.take(now.offer);
  }
}

/** The best stands at the end; of equal gain the earlier frame. */
const lastFirst = (a: Waiting, b: Waiting): number => a.gain - b.gain || b.offer.order - a.offer.order;

function putBack(queue: Waiting[], one: Waiting): void {
  let [low, high] = [0, queue.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (lastFirst(queue[middle]!, one) < 0) low = middle + 1;
    else high = middle;
  }
  queue.splice(low, 0, one);
}
