/** What the log, the light and the bikes of a day say of each picture's look: plain data, for the desk to show and the host to carry out. */
import type { Arrangement, Exposure } from '../arrange/types.js';
import { bikeKeyOf } from '../cover/index.js';
import type { FileId, FrameId, RiderKey } from '../ids.js';
import type { Finish, FinishedAlike, Ratio } from '../log/finishSaid.js';
import type { Decision, FoldedLog } from '../log/types.js';
import type { Box, FrameMeasured, FrameMeasurement, LightStops } from '../measure/types.js';
import { aimOf, balanceFrames, type FrameBalance, type FrameLight } from './alike/index.js';
import { boxLevelled, boxTurned, type Crop, cropTo, type Heading, headingOf, type PlaceThen } from './crops/index.js';
import { type Framing, type Look, lookOf, PLAIN_FINISH } from './finishes/index.js';
import type { PixelSize } from './types.js';

export interface LooksInput {
  readonly arrangement: Arrangement;
  readonly pixels: ReadonlyMap<FrameId, FrameMeasurement>;
  readonly log: FoldedLog;
  /** Of the upright picture; null where nobody knows. */
  readonly sizeOf: (exposure: Exposure) => PixelSize | null;
}

export interface PlannedLook {
  readonly frame: FrameId;
  readonly finish: Finish;
  /** Somebody said how this one is finished. */
  readonly isByItself: boolean;
  readonly balance: FrameBalance | null;
  /** The whole picture, levelled. */
  readonly look: Look;
  /** Bikes that belong to it with their riders, in 0–1 of the levelled picture. */
  readonly subjects: readonly Box[];
  /** Of each shape the finish asks for. */
  readonly crops: readonly { readonly ratio: Ratio; readonly crop: Crop }[];
}

export interface PlannedLooks {
  readonly finishes: Readonly<Record<FinishedAlike, Finish>>;
  /** The middle of all ground; null where none was seen. */
  readonly aim: LightStops | null;
  readonly looks: ReadonlyMap<FrameId, PlannedLook>;
}

/** @param wanted the frames to be finished; all frames of the day count for how alike they shall be */
export function planLooks(input: LooksInput, wanted: ReadonlySet<FrameId>): PlannedLooks {
  const { arrangement, pixels, log } = input;
  const finishes = finishesSaid(log);
  const ridersOf = ridersByBike(arrangement);
  const lights = arrangement.exposures.flatMap((exposure) => lightOf(exposure, pixels.get(exposure.frameId), ridersOf));
  const aim = aimOf(lights);
  const balances = aim === null ? new Map<FrameId, FrameBalance>() : balanceFrames(lights, aim);
  const passes = placesByBike(arrangement, pixels);
  const looks = arrangement.exposures
    .filter(({ frameId }) => wanted.has(frameId))
    .map((exposure): [FrameId, PlannedLook] => {
      const own = finishOf(exposure, log);
      const finish = own ?? finishes[isApart(exposure) ? 'apart' : 'track'];
      const measured = pixels.get(exposure.frameId);
      const balance = isApart(exposure) ? null : (balances.get(exposure.frameId) ?? null);
      const framing = framingOf(measured, finish);
      const look = lookOf(finish, balance ?? undefined, framing);
      const cut = cropsOf(exposure, finish, look.turnDeg, input, passes);
      return [exposure.frameId, { frame: exposure.frameId, finish, isByItself: own !== null, balance, look, ...cut }];
    });
  return { finishes, aim, looks: new Map(looks) };
}

/** Frames of no session: the paddock, a portrait, the briefing. */
const isApart = ({ session }: Exposure): boolean => session === null;

/** The later word stands; until somebody spoke, pictures stay as they were taken. */
function finishesSaid(log: FoldedLog): PlannedLooks['finishes'] {
  const said = (of: FinishedAlike): Finish =>
    log.inForce.reduce(
      (last, { decision }) => (decision.kind === 'finish' && decision.of === of ? decision.finish : last),
      PLAIN_FINISH,
    );
  return { track: said('track'), apart: said('apart') };
}

const finishOf = ({ files }: Exposure, log: FoldedLog): Finish | null =>
  log.inForce.reduce<Finish | null>(
    (last, { decision }) => (decision.kind === 'finish-of' && files.includes(decision.file) ? decision.finish : last),
    null,
  );

type CropOf = Extract<Decision, { kind: 'crop-of' }>;

const cropSaid = (files: readonly FileId[], ratio: Ratio, log: FoldedLog): CropOf | null =>
  log.inForce.reduce<CropOf | null>(
    (last, { decision }) =>
      decision.kind === 'crop-of' && decision.ratio === ratio && files.includes(decision.file) ? decision : last,
    null,
  );

const ridersByBike = ({ passes }: Arrangement): ReadonlyMap<string, RiderKey> =>
  new Map(passes.flatMap(({ bikes, rider }) => bikes.map((bike) => [bikeKeyOf(bike), rider] as const)));

function lightOf(
  exposure: Exposure,
  measured: FrameMeasurement | undefined,
  ridersOf: ReadonlyMap<string, RiderKey>,
): readonly FrameLight[] {
  if (measured?.kind !== 'measured' || exposure.role !== 'bike') return [];
  const { frameId, spot, session, body, wall } = exposure;
  const riders = measured.subjects.flatMap(({ light }, subject) => {
    const rider = ridersOf.get(bikeKeyOf({ frameId, subject }));
    return light && rider ? [{ rider, light: light.subject }] : [];
  });
  const ground = measured.subjects.find(({ isMain }) => isMain)?.light?.ground ?? null;
  const at = `${spot ?? session ?? ''}`;
  return [{ frame: frameId, spot: at, place: `${at} ${body}`, wall, ground, riders }];
}

const framingOf = (measured: FrameMeasurement | undefined, { isLevelled }: Finish): Framing => ({
  turnDeg: isLevelled && measured?.kind === 'measured' ? (measured.level?.turnDeg ?? 0) : 0,
  crop: null,
});

/** The bikes of a pass, in time, by each of its bikes. */
function placesByBike(
  { passes, exposures }: Arrangement,
  pixels: LooksInput['pixels'],
): ReadonlyMap<string, readonly PlaceThen[]> {
  const at = new Map(exposures.map(({ frameId, instant }) => [frameId, instant]));
  return new Map(
    passes.flatMap(({ bikes }) => {
      const places = bikes
        .flatMap((bike): readonly PlaceThen[] => {
          const [instant, measured] = [at.get(bike.frameId), pixels.get(bike.frameId)];
          const box = measured?.kind === 'measured' ? measured.subjects[bike.subject]?.box : undefined;
          return box && typeof instant === 'number' ? [{ at: instant, box }] : [];
        })
        .sort((a, b) => a.at - b.at);
      return bikes.map((bike) => [bikeKeyOf(bike), places] as const);
    }),
  );
}

function cropsOf(
  exposure: Exposure,
  { ratios, leadRoom }: Finish,
  turnDeg: number,
  { pixels, log, sizeOf }: LooksInput,
  passes: ReadonlyMap<string, readonly PlaceThen[]>,
): Pick<PlannedLook, 'subjects' | 'crops'> {
  const size = sizeOf(exposure);
  const measured = pixels.get(exposure.frameId);
  const seen = size !== null && measured?.kind === 'measured' ? subjectsOf(measured, exposure, passes) : null;
  const subjects = size === null || seen === null ? [] : seen.subjects.map((box) => boxLevelled(box, size, turnDeg));
  const crops = ratios.map((ratio): PlannedLook['crops'][number] => {
    const said = cropSaid(exposure.files, ratio, log);
    if (said?.box) {
      const box = size === null ? said.box : boxTurned(said.box, size, said.turnDeg ?? turnDeg, turnDeg);
      return { ratio, crop: { kind: 'crop', box, source: 'said' } };
    }
    if (size === null || seen === null) return { ratio, crop: { kind: 'kept-whole', why: 'nothing-found' } };
    return { ratio, crop: cropTo(ratio, { size, subjects, heading: seen.heading, leadRoom }) };
  });
  return { subjects, crops };
}

/** The main bike, and others about as large: a second rider belongs to the picture, one far behind does not. */
function subjectsOf(
  { subjects }: FrameMeasured,
  { frameId }: Exposure,
  passes: ReadonlyMap<string, readonly PlaceThen[]>,
): { readonly subjects: readonly Box[]; readonly heading: Heading } {
  const index = subjects.findIndex(({ isMain }) => isMain);
  const main = subjects[index];
  if (!main) return { subjects: [], heading: null };
  const area = (box: Box): number => box[2] * box[3];
  const belonging = subjects.filter(
    ({ box, what }) => box === main.box || (what === main.what && area(box) >= BELONGS_FROM * area(main.box)),
  );
  const key = bikeKeyOf({ frameId, subject: index });
  return {
    subjects: belonging.map(({ box }) => box),
    heading: headingOf(passes.get(key) ?? []),
  };
}
const BELONGS_FROM = 0.5;
