/** Every place that may show a picture of this meeting, in the order a takedown goes through them. Rule LW10. */
import { basename } from 'node:path';
import type { Exposure } from '../../core/arrange/types.js';
import { stateRootOf } from '../meeting/stateFolder.js';
import { placesLaid } from './laidFolders.js';
import { cachePlaces, framesByName, type PlaceToClear, placesInMade, toClearWith } from './placesHere.js';
import { type PutUpWish, placesPutUpTo } from './placesOutside.js';

export interface EveryPlaceWish extends Omit<PutUpWish, 'stateRoot'> {
  readonly stateFolder: string;
  readonly otherDisks: readonly string[];
  readonly exposures: readonly Exposure[];
  /** A laid folder that somebody says was deleted. */
  readonly gone?: string;
  /** The order service, where there is one. */
  readonly shop: readonly PlaceToClear[];
}

export async function everyPlace(wish: EveryPlaceWish): Promise<readonly PlaceToClear[]> {
  const { meetingFolder, stateFolder, otherDisks, exposures, gone = null } = wish;
  const onDisks = otherDisks.map((disk, i) => placesInMade(disk, exposures, ` on disk ${i + 2} (${basename(disk)})`));
  const toClear = toClearWith(await framesByName(meetingFolder, exposures));
  return [
    ...(await placesInMade(meetingFolder, exposures)),
    ...(await Promise.all(onDisks)).flat(),
    ...cachePlaces(stateFolder),
    ...(await placesLaid(stateFolder, toClear, gone)),
    ...(await placesPutUpTo({ ...wish, stateRoot: stateRootOf(stateFolder) })),
    ...wish.shop,
  ];
}
