/** What is shown at addresses handed out before: merges leave a way on, splits say so (settled point 4). */
import type { Rider } from '../arrange/types.js';
import type { Takedowns } from '../finish/index.js';
import type { FileId, RiderId } from '../ids.js';
import type { FoldedLog } from '../log/types.js';
import type { OldAddress, PublicIdOf } from './types.js';

/** A rider as this gallery will show it, with the files behind the pictures. */
export interface Shown {
  readonly rider: Rider;
  readonly id: RiderId;
  readonly files: ReadonlySet<FileId>;
}

/** Every file that was ever published under an id, over all editions. */
export function everPublished(log: FoldedLog): ReadonlyMap<RiderId, ReadonlySet<FileId>> {
  const published = new Map<RiderId, Set<FileId>>();
  for (const { decision } of log.inForce) {
    if (decision.kind !== 'published') continue;
    for (const [id, files] of Object.entries(decision.riders) as [RiderId, readonly FileId[]][]) {
      const known = published.get(id) ?? new Set();
      for (const file of files) known.add(file);
      published.set(id, known);
    }
  }
  return published;
}

/** Other riders who now show what was published under this id. */
export function separatedFrom(
  id: RiderId,
  published: ReadonlyMap<RiderId, ReadonlySet<FileId>>,
  shown: readonly Shown[],
): readonly RiderId[] {
  const files = published.get(id) ?? new Set();
  const own = shown.find((one) => one.id === id)?.files ?? new Set();
  const moved = [...files].filter((file) => !own.has(file));
  return shown.filter((one) => one.id !== id && moved.some((file) => one.files.has(file))).map((one) => one.id);
}

export function oldAddresses(
  log: FoldedLog,
  shown: readonly Shown[],
  takedowns: Takedowns,
  publicIdOf: PublicIdOf,
): readonly OldAddress[] {
  const published = everPublished(log);
  const current = new Set(shown.map((one) => one.id));
  const old = [...published.keys()].filter((id) => !current.has(id) && !takedowns.riderIds.has(id));
  const address = (id: RiderId) => publicIdOf('rider', id);
  return old.map((id): OldAddress => {
    const successor = shown.find((one) => one.rider.aliases.includes(id));
    if (successor) return { publicId: address(id), kind: 'moved', to: [address(successor.id)] };
    const to = separatedFrom(id, published, shown).map(address);
    return { publicId: address(id), kind: to.length === 0 ? 'gone' : 'separated', to };
  });
}
