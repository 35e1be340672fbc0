/** Frames that may be apart, for a person to say: those of one walk together, since one answer mostly holds for all of them. */
import type { Apart, Arrangement, Exposure, Pass } from '../types.js';
import { ONE_WALK_MS } from './findApart.js';

type PerhapsApart = Exposure & { readonly perhapsApart: Apart };

/**
 * In the order of the day. Of a rider's frames nobody is asked, unless there is nothing else of that rider: so stands in
 * the list who is a bike left in the paddock.
 */
export function perhapsWalks({ exposures, passes }: Arrangement): readonly (readonly PerhapsApart[])[] {
  const open = new Set(exposures.filter(isPerhaps).map(({ frameId }) => frameId));
  const isOfTrack = ({ bikes }: Pass): boolean => bikes.some(({ frameId }) => !open.has(frameId));
  const riders = new Set(passes.filter(isOfTrack).map(({ rider }) => rider));
  const inPass = new Set(
    passes.filter(({ rider }) => riders.has(rider)).flatMap(({ bikes }) => bikes.map(({ frameId }) => frameId)),
  );
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
