/** Frames that may be apart, for a person to say: those of one walk together, since one answer mostly holds for all of them. */
import type { Apart, Arrangement, Exposure } from '../types.js';
import { ONE_WALK_MS } from './findApart.js';

type PerhapsApart = Exposure & { readonly perhapsApart: Apart };

/** In the order of the day. Of what is in a pass nobody is asked: it has a rider. */
export function perhapsWalks({ exposures, passes }: Arrangement): readonly (readonly PerhapsApart[])[] {
  const inPass = new Set(passes.flatMap(({ bikes }) => bikes.map(({ frameId }) => frameId)));
  const walks: PerhapsApart[][] = [];
  for (const exposure of exposures) {
    if (!isPerhaps(exposure) || inPass.has(exposure.frameId)) continue;
    const walk = walks.find((one) => isOfWalk(one.at(-1)!, exposure));
    if (walk === undefined) walks.push([exposure]);
    else walk.push(exposure);
  }
  return walks;
}

const isPerhaps = (exposure: Exposure): exposure is PerhapsApart => exposure.perhapsApart !== undefined;

const isOfWalk = (before: Exposure, after: Exposure): boolean =>
  before.body === after.body && before.wall !== null && after.wall !== null && after.wall - before.wall <= ONE_WALK_MS;
