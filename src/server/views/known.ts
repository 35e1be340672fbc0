/** Look-ups over one state of the day, made once per state and shared by all views. */
import type { BikeRef, Exposure, Pass, Rider } from '../../core/arrange/types.js';
import { spotsInUse } from '../../core/cover/index.js';
import type { RiderCoverage } from '../../core/cover/types.js';
import { type Takedowns, takedownsOf } from '../../core/finish/index.js';
import type { FrameId, RiderKey, SpotId } from '../../core/ids.js';
import type { BikePoint } from '../../core/log/types.js';
import type { Box, FileMetadata, Subject } from '../../core/measure/types.js';
import type { DayState } from '../../host/day/types.js';
import type { GroupKeyView, PassFrameView } from '../types.js';

export interface SpotKnown {
  readonly id: SpotId;
  readonly number: number;
  readonly name: string;
}

export interface Known {
  readonly state: DayState;
  readonly initials: string;
  readonly spots: readonly SpotKnown[];
  readonly spotById: ReadonlyMap<string, SpotKnown>;
  readonly exposureById: ReadonlyMap<FrameId, Exposure>;
  readonly riderByKey: ReadonlyMap<RiderKey, Rider>;
  readonly coverageByKey: ReadonlyMap<RiderKey, RiderCoverage>;
  readonly groups: readonly GroupKeyView[];
  readonly groupByKey: ReadonlyMap<string, GroupKeyView>;
  /** `frame/subject` of keepers and of what a person left out. */
  readonly kept: ReadonlyMap<string, NonNullable<PassFrameView['kept']>>;
  /** `frame/subject` of proposed keepers: why. */
  readonly keptWhy: ReadonlyMap<string, readonly string[]>;
  /** Files that a decision in force points into to say which rider it is. */
  readonly saidFiles: ReadonlySet<string>;
  /** Indices of passes that are in nobody's set yet. */
  readonly unplaced: ReadonlySet<number>;
  /** Taken down by a person's word. */
  readonly down: Takedowns;
}

/** Tints climb light to dark in the timetable's order: with two groups the lightest and the darkest. */
const TINTS_BY_COUNT: Readonly<Record<number, readonly (0 | 1 | 2 | 3)[]>> = {
  1: [0],
  2: [0, 3],
  3: [0, 1, 3],
  4: [0, 1, 2, 3],
};

const groupKeys = (state: DayState): readonly GroupKeyView[] => {
  const said = state.timetable?.groups ?? [];
  const found = new Set(state.arrangement.sessions.flatMap((session) => session.group ?? []));
  const extra = [...found].filter((key) => !said.some((group) => group.key === key)).map((key) => ({ key, name: key }));
  const all = [...said, ...extra];
  const tints = TINTS_BY_COUNT[all.length] ?? [0, 1, 2, 3];
  return all.map((group, i) => ({ key: group.key, name: group.name, tint: tints[i % tints.length] ?? 0 }));
};

export const bikeKey = (frame: string, subject: number): string => `${frame}/${subject}`;

const keptOf = (state: DayState): Known['kept'] => {
  const kept = new Map<string, NonNullable<PassFrameView['kept']>>();
  for (const keepers of state.keepers.byRider.values())
    for (const keeper of keepers) kept.set(bikeKey(keeper.bike.frameId, keeper.bike.subject), keeper.source);
  for (const bike of state.keepers.leftOut) kept.set(bikeKey(bike.frameId, bike.subject), 'left-out');
  return kept;
};

const keptWhyOf = (state: DayState): Known['keptWhy'] =>
  new Map(
    [...state.keepers.byRider.values()]
      .flat()
      .filter((keeper) => keeper.source === 'proposed')
      .map(({ bike, reasons }) => [bikeKey(bike.frameId, bike.subject), reasons]),
  );

const saidFilesOf = (state: DayState): ReadonlySet<string> => {
  const files = new Set<string>();
  for (const { decision } of state.log.inForce) {
    if (decision.kind === 'same-rider') for (const point of decision.points) files.add(point.file);
    else if (decision.kind === 'rider-is') files.add(decision.point.file);
    else if (decision.kind === 'line-up')
      for (const i of decision.chosen) {
        const point = decision.shown[i];
        if (point) files.add(point.file);
      }
  }
  return files;
};

/** The photographer's initials, as they would sign a timing sheet; `you` where the meeting names nobody. */
export const initialsOf = (creator: string | undefined): string => {
  const letters = (creator ?? '').split(/[\s.]+/).flatMap((word) => word[0] ?? []);
  return letters.length === 0 ? 'you' : letters.slice(0, 3).join('').toUpperCase();
};

function look(state: DayState): Known {
  const spots = [...spotsInUse(state.about.spots, state.log, state.arrangement)].sort(
    (a, b) => a.number - b.number,
  ) as unknown as readonly SpotKnown[];
  const groups = groupKeys(state);
  return {
    state,
    initials: initialsOf(state.about.creator),
    spots,
    spotById: new Map(spots.map((spot) => [spot.id, spot])),
    exposureById: new Map(state.arrangement.exposures.map((exposure) => [exposure.frameId, exposure])),
    riderByKey: new Map(state.arrangement.riders.map((rider) => [rider.key, rider])),
    coverageByKey: new Map(state.coverage.riders.map((coverage) => [coverage.rider, coverage])),
    groups,
    groupByKey: new Map(groups.map((group) => [group.key, group])),
    kept: keptOf(state),
    keptWhy: keptWhyOf(state),
    saidFiles: saidFilesOf(state),
    unplaced: new Set(state.arrangement.unsure ?? []),
    down: takedownsOf(state.arrangement, state.log),
  };
}

const known = new WeakMap<DayState, Known>();

/** What is known of a state; the same object for the same state. */
export function knownOf(state: DayState): Known {
  const before = known.get(state);
  if (before) return before;
  const now = look(state);
  known.set(state, now);
  return now;
}

/** The detected subject of a bike, or null where only a person saw it. */
export function subjectOf({ state }: Known, bike: BikeRef): Subject | null {
  const pixels = state.pixels.get(bike.frameId);
  return pixels?.kind === 'measured' ? (pixels.subjects[bike.subject] ?? null) : null;
}

export function boxOf(known: Known, bike: BikeRef): Box | null {
  const detected = subjectOf(known, bike);
  if (detected) return detected.box;
  return known.state.arrangement.saidBikes.find((said) => said.frameId === bike.frameId)?.box ?? null;
}

export const metadataOf = ({ state, exposureById }: Known, frame: FrameId): FileMetadata | null => {
  const exposure = exposureById.get(frame);
  return exposure ? (state.metadata.get(exposure.mainFile) ?? null) : null;
};

/** Width ÷ height of the upright image; 3:2 where the file does not say. */
export const aspectOf = (metadata: FileMetadata | null): number =>
  metadata?.widthPx && metadata.heightPx ? metadata.widthPx / metadata.heightPx : 1.5;

const round4 = (value: number): number => Math.round(value * 10_000) / 10_000;

/** How a decision names this bike: a point in a file, with the box seen there now. Null where the frame is gone. */
export function pointOf(known: Known, bike: BikeRef): BikePoint | null {
  const exposure = known.exposureById.get(bike.frameId);
  if (!exposure) return null;
  const box = boxOf(known, bike);
  const [left, top, width, height] = box ?? [0, 0, 1, 1];
  return {
    file: exposure.mainFile,
    x: round4(left + width / 2),
    y: round4(top + height / 2),
    ...(box ? { box: [round4(left), round4(top), round4(width), round4(height)] as const } : {}),
    aspect: round4(aspectOf(metadataOf(known, bike.frameId))),
  };
}

const passes = new WeakMap<Known, Map<Rider, readonly Pass[]>>();

/** Asked for again and again by one view: looked up once per state. */
export function passesOf(known: Known, rider: Rider): readonly Pass[] {
  const all = passes.get(known) ?? new Map<Rider, readonly Pass[]>();
  passes.set(known, all);
  const before = all.get(rider);
  if (before) return before;
  const own = rider.passes.flatMap((index) => known.state.arrangement.passes[index] ?? []);
  all.set(rider, own);
  return own;
}

/** Riders of whom at least one pass is placed: what is not placed yet is no rider to be counted or found. */
export const placedRiders = ({ state, unplaced }: Known): readonly Rider[] =>
  unplaced.size === 0
    ? state.arrangement.riders
    : state.arrangement.riders.filter((rider) => rider.passes.some((index) => !unplaced.has(index)));

/** `N3, 3 Gannet`: the session and the spot of a pass, as far as they are known. */
export function whereOfPass({ state, spotById }: Known, pass: Pass): string {
  const spot = pass.spot === null ? undefined : spotById.get(pass.spot);
  const session = state.arrangement.sessions[pass.session]?.name ?? 'outside every session';
  return spot ? `${session}, ${spot.number} ${spot.name}` : session;
}
