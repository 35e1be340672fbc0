/** Why a frame, in words for the screen. */
import type { Offer } from './offers.js';
import { qualityWords } from './quality.js';
import type { GrowingSet } from './setWorth.js';

const VIEW_WORDS = {
  narrow: 'end on',
  between: 'three-quarter',
  wide: 'side on',
  unknown: 'view not measured',
} as const;

/** What it would be beside those in the set. */
export function reasonsFor(offer: Offer, set: GrowingSet): readonly string[] {
  const { quality, pass, seen } = offer;
  const spot = set.countOf('spot', offer);
  const session = set.countOf('session', offer);
  const view = VIEW_WORDS[seen.view];
  return [
    ...qualityWords(quality),
    ...(seen.number === null
      ? []
      : [set.shows(`number:${seen.number}`) ? 'shows the number' : 'first with the number']),
    ...(pass.spot === null ? [] : [spot === 0 ? 'first from this spot' : `${spot} from this spot already`]),
    session === 0 ? 'first of this session' : `${session} of this session already`,
    set.countOf('view', offer) === 0 ? `first ${view}` : view,
    ...sideWords(offer, set),
    ...shutterWords(offer, set),
  ];
}

function sideWords({ seen: { side } }: Offer, set: GrowingSet): readonly string[] {
  if (side !== 'left' && side !== 'right') return [];
  return [set.shows(`side:${side}`) ? `its ${side} side` : `first of its ${side} side`];
}

/** Only slow frames are worth a word: the others are what one expects. */
function shutterWords({ seen: { shutter, shutterS } }: Offer, set: GrowingSet): readonly string[] {
  if (shutter !== 'slow' || shutterS === null) return [];
  const at = shutterS < 1 ? `1/${Math.round(1 / shutterS)}` : `${shutterS} s`;
  return [set.shows('shutter:slow') ? `slow, ${at}` : `first slow one, ${at}`];
}
