/** Riders who are these persons, as far as anybody said: by a bike that was named, or by the number of their entry. */
import type { Arrangement, Rider } from '../arrange/types.js';
import type { FileId, PersonId, RiderKey } from '../ids.js';
import type { FoldedLog } from '../log/types.js';

export function ridersOfPersons(
  arrangement: Arrangement,
  log: Pick<FoldedLog, 'inForce'>,
  persons: ReadonlySet<PersonId>,
): ReadonlySet<RiderKey> {
  const found = new Set<RiderKey>();
  if (persons.size === 0) return found;
  const ridersIn = ridersByFile(arrangement);
  for (const person of persons) {
    const named = log.inForce.flatMap(({ decision }) =>
      decision.kind === 'rider-is' && decision.person === person ? [decision.point.file] : [],
    );
    for (const rider of ridersAt(named.map((file) => [...(ridersIn.get(file) ?? [])]))) found.add(rider);
    for (const rider of byNumber(person, arrangement, log)) found.add(rider);
  }
  return found;
}

/** In a frame with several bikes the one that was meant is among those of another of the person's frames, or not told. */
function ridersAt(points: readonly (readonly RiderKey[])[]): readonly RiderKey[] {
  const times = new Map<RiderKey, number>();
  for (const rider of points.flat()) times.set(rider, (times.get(rider) ?? 0) + 1);
  return points.flatMap((riders) => (riders.length === 1 ? riders : riders.filter((one) => times.get(one)! > 1)));
}

function ridersByFile({ exposures, passes, saidBikes }: Arrangement): ReadonlyMap<FileId, ReadonlySet<RiderKey>> {
  const inFrame = new Map<string, Set<RiderKey>>();
  const note = (frame: string, rider: RiderKey) => inFrame.set(frame, (inFrame.get(frame) ?? new Set()).add(rider));
  for (const pass of passes) for (const bike of pass.bikes) note(bike.frameId, pass.rider);
  for (const bike of saidBikes) note(bike.frameId, bike.rider);
  return new Map(
    exposures.flatMap(({ files, frameId }) => files.map((file) => [file, inFrame.get(frameId) ?? new Set()] as const)),
  );
}

/** A number two people ride under in different classes counts only for riders of that class. */
function byNumber(person: PersonId, { riders }: Arrangement, log: Pick<FoldedLog, 'inForce'>): readonly RiderKey[] {
  const said = log.inForce.findLast(({ decision }) => decision.kind === 'entries')?.decision;
  const entries = said?.kind === 'entries' ? said.entries : [];
  return entries
    .filter((entry) => entry.person === person && entry.number !== '')
    .flatMap((entry) => {
      const isShared = entries.some((other) => other.number === entry.number && other.person !== person);
      const fits = (rider: Rider): boolean =>
        rider.number === entry.number && (!isShared || rider.groups.includes(entry.class));
      return riders.filter(fits).map(({ key }) => key);
    });
}
