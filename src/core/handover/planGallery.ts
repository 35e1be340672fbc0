/** What a public gallery shows. Pure: ids come from the caller's keyed hash, sizes from the proofs. Rules HO1–HO9. */
import { liveryOf } from '../arrange/index.js';
import type { Arrangement, Exposure, Rider } from '../arrange/types.js';
import type { Keeper, Keepers } from '../choose/types.js';
import { subjectOf } from '../cover/index.js';
import { type PixelSize, type Takedowns, takedownsOf } from '../finish/index.js';
import type { FileId, FrameId, RiderId } from '../ids.js';
import { type BikePoint, type Decision, type FoldedLog, takenDown } from '../log/index.js';
import type { Box, FrameMeasurement } from '../measure/types.js';
import type { Timetable } from '../plan/types.js';
import { everPublished, oldAddresses, type Shown, separatedFrom } from './oldAddresses.js';
import type { Gallery, GalleryPicture, GalleryPlan, GalleryRider, GallerySession, PublicIdOf } from './types.js';

export interface GalleryInput {
  readonly edition: string;
  readonly about: {
    readonly name: string;
    readonly firstDay: string;
    readonly lastDay: string;
    readonly circuit?: string;
    readonly spots: readonly { readonly id: string; readonly number: number; readonly name: string }[];
    readonly creator?: string;
    readonly credit?: string;
  };
  readonly contact: string | null;
  readonly timetable: Timetable | null;
  readonly arrangement: Arrangement;
  readonly keepers: Keepers;
  readonly pixels: ReadonlyMap<FrameId, FrameMeasurement>;
  readonly log: FoldedLog;
  /** Frames a proof was made of. What has none is not shown. */
  readonly proofs: ReadonlyMap<FrameId, PixelSize>;
  readonly publicIdOf: PublicIdOf;
  /** An id for a rider who has none yet; the same for the same face, so that a run that is begun again agrees. */
  readonly mint: (face: string) => RiderId;
}

export function planGallery(input: GalleryInput): GalleryPlan {
  const takedowns = takedownsOf(input.arrangement, input.log);
  const kept = keptByRider(input, takedowns);
  const shown = [...kept].map(([rider, keepers]) => shownOf(rider, keepers, input));
  const riders = [...kept].map(([rider, keepers], i) => riderOf(rider, keepers, shown[i]!, shown, input));
  return {
    gallery: {
      ...headOf(input),
      sessions: sessionsOf(input.arrangement, riders),
      riders: riders.sort(byFirstPicture),
      oldAddresses: oldAddresses(input.log, shown, takedowns, input.publicIdOf),
    },
    decisions: decisionsOf(input, shown, kept),
  };
}

/** Riders who may be shown, with the keepers that have a proof and were not taken down, best first. */
function keptByRider(input: GalleryInput, takedowns: Takedowns): ReadonlyMap<Rider, readonly Keeper[]> {
  const mayBeShown = ({ bike }: Keeper) => input.proofs.has(bike.frameId) && !takedowns.frames.has(bike.frameId);
  const kept = input.arrangement.riders
    .filter((rider) => !takedowns.riders.has(rider.key))
    .map((rider) => [rider, (input.keepers.byRider.get(rider.key) ?? []).filter(mayBeShown)] as const);
  return new Map(kept.filter(([, keepers]) => keepers.length > 0));
}

function shownOf(rider: Rider, keepers: readonly Keeper[], input: GalleryInput): Shown {
  const exposures = exposuresOf(input.arrangement);
  const id = rider.id ?? mintFor(rider, input);
  return { rider, id, files: new Set(keepers.map(({ bike }) => exposures.get(bike.frameId)!.mainFile)) };
}

/**
 * Never an id that another rider of now goes by, nor one that was taken down: after a split or a merge the same face
 * may belong to another rider.
 */
function mintFor(rider: Rider, input: GalleryInput): RiderId {
  const used = new Set([
    ...takenDown(input.log).riders,
    ...input.arrangement.riders.flatMap((other) => (other.id === null ? other.aliases : [other.id, ...other.aliases])),
  ]);
  const face = `${rider.face.frameId}:${rider.face.subject}`;
  for (let again = 0; ; again++) {
    const id = input.mint(again === 0 ? face : `${face}:${again}`);
    if (!used.has(id)) return id;
  }
}

function riderOf(
  rider: Rider,
  keepers: readonly Keeper[],
  own: Shown,
  shown: readonly Shown[],
  input: GalleryInput,
): GalleryRider {
  const pictures = keepers.map((keeper) => pictureOf(keeper, input));
  const face = pictures[keepers.indexOf(firstKeeperOf(rider, keepers)!)]!;
  const separated = separatedFrom(own.id, everPublished(input.log), shown);
  return {
    key: rider.key,
    id: own.id,
    publicId: input.publicIdOf('rider', own.id),
    livery: rider.livery,
    look: liveryOf(rider.bikeColours, rider.riderColours, rider.helmetColours),
    colours: rider.mainColours,
    number: rider.number === null ? null : { text: rider.number, source: rider.numberSource ?? { kind: 'said' } },
    pictures: [...pictures].sort((a, b) => (a.wall ?? 0) - (b.wall ?? 0)),
    face,
    faceId: input.publicIdOf('face', face.frameId),
    separated: separated.map((id) => input.publicIdOf('rider', id)),
    perhaps: perhapsOf(rider, shown, input),
  };
}

/** The one picture a rider is found by, and stands with while the rest is made or put up: the face, else the best. */
export const firstKeeperOf = (rider: Rider, keepers: readonly Keeper[]): Keeper | undefined =>
  keepers.find(({ bike }) => bike.frameId === rider.face.frameId) ?? keepers[0];

/** Below this chance somebody would be shown strangers. No source, by reasoning: one right of ten looked at. */
const LEAST_PERHAPS = 0.1;
const MOST_PERHAPS = 4;

/** What the program would ask the photographer about, a rider may answer of themselves. */
function perhapsOf(rider: Rider, shown: readonly Shown[], { arrangement, publicIdOf }: GalleryInput) {
  return arrangement.questions
    .flatMap((question) => {
      if (question.kind !== 'same-rider' || question.confidence < LEAST_PERHAPS) return [];
      const { a, b, confidence } = question;
      const other = a === rider.key ? b : b === rider.key ? a : null;
      const one = shown.find((each) => each.rider.key === other);
      return one === undefined ? [] : [{ publicId: publicIdOf('rider', one.id), confidence }];
    })
    .sort((x, y) => y.confidence - x.confidence || (x.publicId < y.publicId ? -1 : 1))
    .slice(0, MOST_PERHAPS);
}

function pictureOf({ bike }: Keeper, input: GalleryInput): GalleryPicture {
  const exposure = exposuresOf(input.arrangement).get(bike.frameId)!;
  const spot = input.about.spots.find((one) => one.id === exposure.spot)?.name ?? null;
  return {
    id: input.publicIdOf('frame', bike.frameId),
    frameId: bike.frameId,
    size: input.proofs.get(bike.frameId)!,
    box: boxOf(bike.frameId, bike.subject, input),
    isShared: showsAnother(bike, input),
    session: exposure.session,
    spot,
    wall: exposure.wall,
  };
}

function boxOf(frameId: FrameId, subject: number, input: GalleryInput): Box | null {
  const found = subjectOf({ frameId, subject }, input.pixels);
  if (!('kind' in found)) return found.box;
  return input.arrangement.saidBikes.find((said) => said.frameId === frameId)?.box ?? null;
}

function showsAnother({ frameId, subject }: Keeper['bike'], { pixels }: GalleryInput): boolean {
  const measured = pixels.get(frameId);
  return measured?.kind === 'measured' && measured.subjects.some(({ what }, i) => i !== subject && what !== 'person');
}

/** `10:43`, of a wall time. */
export const clockText = (wall: number): string => new Date(wall).toISOString().slice(11, 16);

function headOf({
  edition,
  about,
  contact,
  timetable,
  arrangement,
}: GalleryInput): Omit<Gallery, 'sessions' | 'riders' | 'oldAddresses'> {
  const keys = [...new Set(arrangement.sessions.map((session) => session.group).filter((group) => group !== null))];
  const inTimetable = (timetable?.groups ?? []).filter((group) => keys.includes(group.key));
  const stoodAt = new Set<string | null>(arrangement.exposures.map(({ spot }) => spot));
  const others = keys.filter((key) => !inTimetable.some((group) => group.key === key));
  return {
    edition,
    title: about.name,
    firstDay: about.firstDay,
    lastDay: about.lastDay,
    circuit: about.circuit ?? null,
    credit: about.credit ?? about.creator ?? null,
    contact,
    groups: [...inTimetable, ...others.map((key) => ({ key, name: null }))],
    // A spot nobody stood at is no rider's gap.
    spots: about.spots.filter(({ id }) => stoodAt.has(id)).map(({ name, number }) => ({ name, number })),
  };
}

function sessionsOf(arrangement: Arrangement, riders: readonly GalleryRider[]): readonly GallerySession[] {
  return arrangement.sessions.map(({ index, name, group, start }) => {
    const here = riders.filter((rider) => rider.pictures.some((picture) => picture.session === index));
    return { index, name, group, start, riders: here.map((rider) => rider.publicId) };
  });
}

const byFirstPicture = (a: GalleryRider, b: GalleryRider): number =>
  (a.pictures[0]?.wall ?? 0) - (b.pictures[0]?.wall ?? 0) || (a.publicId < b.publicId ? -1 : 1);

/** What publishing adds to the log: new ids with the bikes they stand for, then the snapshot, if it says anything new. */
function decisionsOf(
  input: GalleryInput,
  shown: readonly Shown[],
  kept: ReadonlyMap<Rider, readonly Keeper[]>,
): readonly Decision[] {
  const minted = shown
    .filter(({ rider }) => rider.id === null)
    .map(({ rider, id }): Decision => {
      const points = (kept.get(rider) ?? []).map((keeper) => pointOf(keeper, input));
      return { kind: 'rider-minted', rider: id, points: points.filter((point) => point !== null), shownAs: rider.key };
    });
  const riders = Object.fromEntries(shown.map(({ id, files }) => [id, [...files].sort()]));
  const last = input.log.inForce.findLast(
    ({ decision }) => decision.kind === 'published' && decision.edition === input.edition,
  )?.decision;
  const isNews = last?.kind !== 'published' || canonical(last.riders) !== canonical(riders);
  return isNews ? [...minted, { kind: 'published', edition: input.edition, riders }] : minted;
}

const canonical = (riders: Readonly<Record<string, readonly FileId[]>>): string =>
  JSON.stringify(
    Object.entries(riders)
      .map(([id, files]) => [id, [...files].sort()] as const)
      .sort(([a], [b]) => (a < b ? -1 : 1)),
  );

function pointOf({ bike }: Keeper, input: GalleryInput): BikePoint | null {
  const box = boxOf(bike.frameId, bike.subject, input);
  const size = input.proofs.get(bike.frameId)!;
  const file = exposuresOf(input.arrangement).get(bike.frameId)!.mainFile;
  if (!box) return null;
  return { file, x: box[0] + box[2] / 2, y: box[1] + box[3] / 2, box, aspect: size.widthPx / size.heightPx };
}

const known = new WeakMap<Arrangement, ReadonlyMap<FrameId, Exposure>>();

/** Exposures by frame; worked out once for an arrangement, which never changes. */
function exposuresOf(arrangement: Arrangement): ReadonlyMap<FrameId, Exposure> {
  const found = known.get(arrangement);
  if (found) return found;
  const made = new Map(arrangement.exposures.map((exposure) => [exposure.frameId, exposure]));
  known.set(arrangement, made);
  return made;
}
