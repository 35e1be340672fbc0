/** What puts one frame behind another, in a few words: the largest of all differences. */
import type { Offer } from './offers.js';
import type { GrowingSet } from './setWorth.js';

/** Shares nearer than this are as good as each other. */
const AS_GOOD = 0.02;

/** `set`: without either of them. */
export function whySecond(first: Offer, second: Offer, set: GrowingSet): string {
  const own = second.quality.worth / first.quality.worth;
  const gain = set.gainOf(second) / set.gainOf(first);
  if (gain > 1 + AS_GOOD) return 'worth more to the set, but a person’s word stands';
  // Of what it gains, what does not come from its own worth comes from what it shows.
  if (gain < own - AS_GOOD) return own > 1 ? 'better by itself, but shows less that is new' : 'shows less that is new';
  return own > 1 - AS_GOOD ? 'as good; the earlier one stands' : lesserBy(first, second);
}

function lesserBy({ quality: a }: Offer, { quality: b }: Offer): string {
  const [x, y] = [a.looked?.left, b.looked?.left];
  const compared: readonly (readonly [number, string])[] = [
    [b.framing / a.framing, 'smaller in the picture'],
    ...(x === undefined || y === undefined
      ? []
      : ([
          [
            y.focus / x.focus,
            b.looked?.blur?.kind === 'moved' ? 'more blurred by movement' : 'less sharp at full resolution',
          ],
          [y.edge / x.edge, 'closer to the edge, or cut'],
          [y.inFront / x.inFront, 'more stands in front of it'],
          [y.bright / x.bright, 'more of it is burnt'],
        ] as const)),
  ];
  const [share, words] = compared.reduce((worst, one) => (one[0] < worst[0] ? one : worst));
  return share < 1 - AS_GOOD ? words : 'less sharp';
}
