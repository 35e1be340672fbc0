/** What may go to the organiser: every rider's keepers, and frames kept apart that show podium, paddock and portraits. Rules OG1, OG2. */
import type { Apart, Exposure } from '../../arrange/types.js';
import { type ChooseInput, setsOf, type Taken } from '../../choose/index.js';
import { ridersByFrame, takedownsOf } from '../../finish/index.js';
import type { FrameId, RiderKey, SpotId } from '../../ids.js';
import type { Timetable } from '../../plan/types.js';
import { gridsOf, podiumRace, racesOf } from './races.js';
import type { GridGuess, SetCandidate, SetPicture, SetShows } from './types.js';

export interface CandidatesInput extends ChooseInput {
  readonly timetable: Timetable | null;
  readonly boards: ReadonlySet<SpotId>;
}

/** In the day's order. */
export function candidatesOf(input: CandidatesInput): readonly SetCandidate[] {
  const { arrangement } = input;
  const known = knownOf(input);
  const taken = takenByFrame(input);
  return arrangement.exposures.flatMap((exposure, order): readonly SetCandidate[] => {
    const { frameId } = exposure;
    if (known.out.has(frameId)) return [];
    const own = taken.get(frameId);
    if (own !== undefined) return [ridingOf(exposure, own, order, known)];
    // Nobody looks for a briefing, and a guess that it is one of these is said as a guess.
    const { apart } = exposure;
    return apart === undefined || apart.is === 'briefing' ? [] : [apartOf(exposure, apart, order, known)];
  });
}

/** Pictures that were named one by one, keepers or not: numbered as they were named. What was taken down is not among them. */
export function namedPictures(
  frames: readonly FrameId[],
  input: CandidatesInput,
): { readonly pictures: readonly SetPicture[]; readonly left: readonly FrameId[] } {
  const known = knownOf(input);
  const candidates = new Map(candidatesOf(input).map((one) => [one.frameId, one.shows]));
  const exposures = new Map(input.arrangement.exposures.map((one) => [one.frameId, one]));
  const riders = ridersByFrame(input.arrangement);
  const may = frames.filter((frame) => exposures.has(frame) && !known.down.has(frame));
  const pictures = may.map((frameId, i): SetPicture => {
    const own = riders.get(frameId)?.map(({ key }) => key) ?? [];
    const shows = candidates.get(frameId) ?? plainShows(exposures.get(frameId)!, own, known);
    return { frameId, number: i + 1, source: 'said', reasons: ['the organiser named it'], gain: 0, shows };
  });
  return { pictures, left: frames.filter((frame) => !may.includes(frame)) };
}

const plainShows = (exposure: Exposure, riders: readonly RiderKey[], known: Known): SetShows => ({
  group: exposure.session === null ? null : (known.arrangement.sessions[exposure.session]?.group ?? null),
  session: exposure.session,
  spot: exposure.spot,
  riders,
  view: null,
  shutter: null,
  apart: exposure.apart ?? null,
  grid: known.grids.get(exposure.frameId) ?? podiumRace(exposure, known.races),
  hasBoards: exposure.spot !== null && known.boards.has(exposure.spot),
});

interface Known extends CandidatesInput {
  readonly down: ReadonlySet<FrameId>;
  /** Taken down, or kept apart and left out by a person. */
  readonly out: ReadonlySet<FrameId>;
  readonly grids: ReadonlyMap<FrameId, GridGuess>;
  readonly races: ReturnType<typeof racesOf>;
}

function knownOf(input: CandidatesInput): Known {
  const { arrangement, log, timetable } = input;
  const races = racesOf(timetable);
  const leftOut = new Set(
    log.inForce.flatMap(({ decision: said }) => (said.kind === 'leave-out' && !said.point ? [said.file] : [])),
  );
  const unwanted = arrangement.exposures.filter(
    ({ apart, files }) => apart !== undefined && files.some((file) => leftOut.has(file)),
  );
  const down = takedownsOf(arrangement, log).frames;
  const out = new Set([...down, ...unwanted.map(({ frameId }) => frameId)]);
  return { ...input, races, grids: gridsOf(arrangement, input.pixels, races), down, out };
}

function takenByFrame(input: ChooseInput): ReadonlyMap<FrameId, readonly Taken[]> {
  const { setOf } = setsOf(input);
  const taken = new Map<FrameId, Taken[]>();
  for (const { key } of input.arrangement.riders)
    for (const one of setOf(key)?.taken ?? []) {
      const { frameId } = one.offer.bike;
      taken.set(frameId, [...(taken.get(frameId) ?? []), one]);
    }
  return taken;
}

function ridingOf(exposure: Exposure, taken: readonly Taken[], order: number, known: Known): SetCandidate {
  const best = taken.reduce((a, b) => (b.offer.quality.worth > a.offer.quality.worth ? b : a));
  const { pass, seen, quality } = best.offer;
  const session = known.arrangement.sessions[pass.session];
  const rider = known.arrangement.riders.find(({ key }) => key === pass.rider);
  return {
    frameId: exposure.frameId,
    quality: quality.worth,
    qualityWords: [quality.judgement.reason],
    alike: `pass ${pass.index}`,
    order,
    shows: {
      group: session?.group ?? rider?.group ?? null,
      session: session?.index ?? null,
      spot: exposure.spot,
      riders: [...new Set(taken.map(({ keeper }) => keeper.rider))],
      view: seen.view === 'unknown' ? null : seen.view,
      shutter: seen.shutter === 'unknown' ? null : seen.shutter,
      apart: exposure.apart ?? null,
      grid: known.grids.get(exposure.frameId) ?? null,
      hasBoards: exposure.spot !== null && known.boards.has(exposure.spot),
    },
  };
}

/** How good it is nobody measured: it counts as a middling frame, more where a person said what it is. */
const APART_QUALITY = { said: 0.7, measured: 0.6, guessed: 0.5 } as const;

function apartOf(exposure: Exposure, apart: Apart, order: number, known: Known): SetCandidate {
  const race = podiumRace(exposure, known.races);
  return {
    frameId: exposure.frameId,
    quality: APART_QUALITY[apart.source.kind],
    qualityWords: ['sharpness is not judged in frames kept apart'],
    alike: exposure.burst === null ? `frame ${exposure.frameId}` : `burst ${exposure.burst}`,
    order,
    shows: {
      group: known.races.find(({ name }) => name === race?.slot)?.group ?? null,
      session: null,
      spot: null,
      riders: [],
      view: null,
      shutter: null,
      apart,
      grid: race,
      hasBoards: false,
    },
  };
}
