/**
 * Whose shown pictures are held together by a guess. Looks and laps put the passes of a day together; only what a person said of them is
 * none: these are one rider, this is that person, this rider is settled as it is. A word about a frame with several riders in it is of
 * one of them, nobody knows here of which, so it counts for none. Rule HD6.
 */
import type { Arrangement, Rider } from '../arrange/types.js';
import type { FileId, FrameId, RiderKey } from '../ids.js';
import type { BikePoint, FoldedLog } from '../log/types.js';

export function joinedByGuess(
  { exposures, passes, riders }: Pick<Arrangement, 'exposures' | 'passes' | 'riders'>,
  log: Pick<FoldedLog, 'inForce'>,
  shown: (rider: RiderKey) => ReadonlySet<FrameId>,
): ReadonlySet<RiderKey> {
  const frameOf = new Map(exposures.flatMap(({ files, frameId }) => files.map((file) => [file, frameId] as const)));
  const ridersIn = new Map<FrameId, Set<RiderKey>>();
  for (const { bikes, rider } of passes)
    for (const { frameId } of bikes) ridersIn.set(frameId, (ridersIn.get(frameId) ?? new Set()).add(rider));
  const framesOf = (files: readonly FileId[]) => new Set(files.map((file) => frameOf.get(file)!));
  const words = wordsOf(log).map((files) => framesOf(files));
  for (const frames of words) for (const frame of frames) if (ridersIn.get(frame)?.size !== 1) frames.delete(frame);
  const settled = settledOf(log);
  const isGuess = (rider: Rider): boolean => {
    const own = shown(rider.key);
    const seen = rider.passes
      .map((index) => new Set(passes[index]!.bikes.map(({ frameId }) => frameId)))
      .filter((frames) => meet(own, frames));
    const ids = [rider.id, ...rider.aliases].flatMap((id) => settled.get(id!) ?? []);
    return !isOnePiece(seen, [...words, framesOf(ids)]);
  };
  return new Set(riders.filter(isGuess).map(({ key }) => key));
}

/** Each list is of one rider by somebody's word. */
function wordsOf({ inForce }: Pick<FoldedLog, 'inForce'>): readonly (readonly FileId[])[] {
  const said: FileId[][] = [];
  const named = new Map<string, FileId[]>();
  const filesOf = (points: readonly BikePoint[]) => points.map(({ file }) => file);
  for (const { decision } of inForce) {
    if (decision.kind === 'same-rider') said.push(filesOf(decision.points));
    if (decision.kind === 'line-up')
      said.push(filesOf([decision.of, ...decision.chosen.map((index) => decision.shown[index]!)]));
    if (decision.kind !== 'rider-is') continue;
    const name = decision.rider ?? decision.person;
    if (name !== undefined) named.set(name, [...(named.get(name) ?? []), decision.point.file]);
  }
  return [...said, ...named.values()];
}

/** The last word about each. */
const settledOf = ({ inForce }: Pick<FoldedLog, 'inForce'>): ReadonlyMap<string, readonly FileId[]> =>
  new Map(
    inForce.flatMap(({ decision }) => (decision.kind === 'settled' ? [[decision.rider, decision.files] as const] : [])),
  );

/** Whether the words lead from the first pass to all others. */
function isOnePiece(passes: readonly ReadonlySet<FrameId>[], words: readonly ReadonlySet<FrameId>[]): boolean {
  const left = new Set(passes.slice(1));
  const reached = passes.slice(0, 1);
  for (let next = reached.pop(); next !== undefined; next = reached.pop()) {
    const pass = next;
    const about = words.filter((frames) => meet(frames, pass));
    for (const other of [...left])
      if (about.some((frames) => meet(frames, other))) {
        left.delete(other);
        reached.push(other);
      }
  }
  return left.size === 0;
}

const meet = (a: ReadonlySet<FrameId>, b: ReadonlySet<FrameId>): boolean => [...b].some((frame) => a.has(frame));
