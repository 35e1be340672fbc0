/**
 * A rider's private link: an address nobody can guess, of a page with that rider's set and nothing else, which no other page
 * leads to. Its salt stands in the log: another salt is another address, none is no page, and no other rider's link changes.
 */
import type { Rider } from '../../arrange/types.js';
import type { RiderId } from '../../ids.js';
import type { FoldedLog } from '../../log/types.js';
import type { Gallery, GalleryRider, PublicId, PublicIdOf } from '../types.js';

export function ownLinksOf(log: Pick<FoldedLog, 'inForce'>): ReadonlyMap<RiderId, string> {
  const links = new Map<RiderId, string>();
  for (const { decision } of log.inForce) {
    if (decision.kind !== 'own-link') continue;
    if (decision.salt === null) links.delete(decision.rider);
    else links.set(decision.rider, decision.salt);
  }
  return links;
}

/** Of every link that ever stood and stands no more, or whose rider was taken down. */
export function endedSetIds(
  log: Pick<FoldedLog, 'inForce'>,
  takenDown: ReadonlySet<RiderId>,
  publicIdOf: PublicIdOf,
): ReadonlySet<PublicId> {
  const standing = ownLinksOf(log);
  const ended = new Set<PublicId>();
  for (const { decision } of log.inForce) {
    if (decision.kind !== 'own-link' || decision.salt === null) continue;
    const stands = standing.get(decision.rider) === decision.salt && !takenDown.has(decision.rider);
    if (!stands) ended.add(ownSetId(decision.rider, decision.salt, publicIdOf));
  }
  return ended;
}

export interface OwnSet {
  readonly id: PublicId;
  readonly rider: GalleryRider;
}

/** Unrelated to the public id of the same rider: neither tells the other. */
export const ownSetId = (rider: RiderId, salt: string, publicIdOf: PublicIdOf): PublicId =>
  publicIdOf('set', JSON.stringify([rider, salt]));

/** A link that was given out before two riders became one leads to all of that one's pictures. */
export function ownSetsOf(
  gallery: Pick<Gallery, 'riders'>,
  riders: readonly Pick<Rider, 'key' | 'aliases'>[],
  log: Pick<FoldedLog, 'inForce'>,
  publicIdOf: PublicIdOf,
): readonly OwnSet[] {
  const aliases = new Map(riders.map((rider) => [rider.key, rider.aliases]));
  const links = ownLinksOf(log);
  return gallery.riders.flatMap((rider) =>
    [rider.id, ...(aliases.get(rider.key) ?? [])].flatMap((name) => {
      const salt = links.get(name);
      return salt === undefined ? [] : [{ id: ownSetId(name, salt, publicIdOf), rider }];
    }),
  );
}
