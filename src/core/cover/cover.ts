/** Coverage of a day: per rider, spot and session, by good frames. Rules CV1–CV19 in docs/rules/cover.md. */
import type { Arrangement, BikeRef, Exposure, Rider } from '../arrange/types.js';
import type { FrameId, SpotId } from '../ids.js';
import type { FrameMeasurement } from '../measure/types.js';
import type { Spot, Stand, Timetable } from '../plan/types.js';
import type { WallMs } from '../units.js';
import { neverSeen } from './entries.js';
import { GOOD_FRAME_RULES, judgePasses, type PassJudgements } from './goodFrames.js';
import { type StoodAt, sessionsOf, stoodAt } from './stands.js';
import type {
  Coverage,
  CoverageCell,
  CoverageRules,
  CoverageState,
  Entry,
  GoodFrameJudgement,
  RiderCoverage,
} from './types.js';
import { type HeadCount, unseenRiders } from './unseen.js';

export interface CoverInput {
  readonly arrangement: Arrangement;
  readonly pixels: ReadonlyMap<FrameId, FrameMeasurement>;
  /** From the log's `stood-at` decisions in force; see `standsOf`. */
  readonly stands: readonly Stand[];
  /** The meeting's spots in the order the wheel shows them. */
  readonly spots: readonly Pick<Spot, 'id'>[];
  readonly timetable: Timetable | null;
  /** Entry list or sign-on sheet, or null where there is none. */
  readonly entries: readonly Entry[] | null;
  readonly rules?: Partial<CoverageRules>;
  /** Of this arrangement by these rules, where somebody judged them already. */
  readonly judgements?: PassJudgements;
  /** From the log's `head-count` decisions in force; see `headCountsOf`. Absent: nobody counted. */
  readonly headCounts?: readonly HeadCount[];
  /** Wall time in the meeting's zone; null: the day is over. */
  readonly now: WallMs | null;
}

/** Common practice, no source: two good frames are the least a rider can be offered a choice from. */
export const COVERAGE_RULES: CoverageRules = { thinBelowGoodFrames: 2, goodFrame: GOOD_FRAME_RULES };

export function cover(input: CoverInput): Coverage {
  const rules = { ...COVERAGE_RULES, ...input.rules };
  const judgements =
    input.judgements ?? judgePasses(input.arrangement, input.pixels, rules.goodFrame ?? GOOD_FRAME_RULES);
  const stood = stoodAt(input.arrangement, input.stands, input.now);
  const frames = new Map(input.arrangement.exposures.map((exposure) => [exposure.frameId, exposure]));
  const unseen = unseenRiders(input.arrangement, input.headCounts ?? []);
  const riders = input.arrangement.riders.map((rider) => coverRider(rider, input, judgements, stood, frames, rules));
  return {
    rules,
    riders,
    thin: riders.filter((rider) => rider.isThin).map((rider) => rider.rider),
    ...neverSeen(input.arrangement, input.entries),
    emptyStands: emptyStands(input.arrangement, stood),
    ...(unseen.length === 0 ? {} : { unseen }),
  };
}

function coverRider(
  rider: Rider,
  input: CoverInput,
  judgements: PassJudgements,
  stood: readonly StoodAt[],
  exposures: ReadonlyMap<FrameId, Exposure>,
  rules: CoverageRules,
): RiderCoverage {
  const cells = cellsOf(rider, input.arrangement, judgements, exposures);
  const goodFrames = sum(cells, (cell) => cell.goodFrames);
  return {
    rider: rider.key,
    cells,
    wheel: wheelOf(rider, input, cells, stood),
    goodFrames,
    frames: sum(cells, (cell) => cell.frames),
    isThin: goodFrames < rules.thinBelowGoodFrames,
  };
}

/** One bike of a rider in one frame, in the cell it belongs to. */
interface Placed {
  readonly bike: BikeRef;
  readonly spot: SpotId | null;
  readonly session: number;
  readonly isGood: boolean;
  readonly rank: number;
}

/** A frame counts once per rider, however many boxes of that rider a measurement or a person put into it. */
function cellsOf(
  rider: Rider,
  arrangement: Arrangement,
  judgements: PassJudgements,
  exposures: ReadonlyMap<FrameId, Exposure>,
): readonly CoverageCell[] {
  const best = new Map<FrameId, Placed>();
  for (const index of rider.passes) {
    const pass = arrangement.passes[index];
    for (const [k, bike] of (pass?.bikes ?? []).entries()) {
      // A portrait covers nobody on the track.
      if (exposures.get(bike.frameId)?.apart !== undefined) continue;
      const judgement = judgements[index]?.[k];
      const own = rankOf(judgement);
      const there = best.get(bike.frameId);
      if (there && own <= there.rank) continue;
      best.set(bike.frameId, {
        bike,
        spot: pass!.spot ?? exposures.get(bike.frameId)?.spot ?? null,
        session: pass!.session,
        isGood: judgement?.kind === 'good',
        rank: own,
      });
    }
  }
  const cells = new Map<string, Placed[]>();
  for (const placed of best.values()) {
    const key = `${placed.session}|${placed.spot ?? ''}`;
    const cell = cells.get(key);
    if (cell === undefined) cells.set(key, [placed]);
    else cell.push(placed);
  }
  return [...cells.values()].map(cellOf).sort(bySessionAndSpot);
}

function cellOf(placed: readonly Placed[]): CoverageCell {
  const { spot, session } = placed[0]!;
  const best = placed.reduce((most, one) => (one.rank > most.rank ? one : most));
  const goodFrames = placed.filter(({ isGood }) => isGood).length;
  return { spot, session, goodFrames, frames: placed.length, best: best.bike };
}

const bySessionAndSpot = (a: CoverageCell, b: CoverageCell): number =>
  a.session - b.session || (a.spot ?? '').localeCompare(b.spot ?? '', 'en');

/** For finding the best of a cell: good before soft, soft before unsure, unsure before cut; then sharper first. */
function rankOf(judgement: GoodFrameJudgement | undefined): number {
  if (!judgement || judgement.kind === 'unsure') return 2;
  if (judgement.kind === 'cut') return 0;
  const standing = judgement.standing ?? 1;
  return (judgement.kind === 'good' ? 6 : 4) + standing / (1 + standing);
}

function wheelOf(rider: Rider, input: CoverInput, cells: readonly CoverageCell[], stood: readonly StoodAt[]) {
  const own = sessionsOf(rider, input.arrangement);
  return input.spots.map(({ id: spot }) => {
    const here = cells.filter((cell) => cell.spot === spot);
    const goodFrames = sum(here, (cell) => cell.goodFrames);
    const frames = sum(here, (cell) => cell.frames);
    const wasMissed = stood.some((stand) => stand.spot === spot && stand.isOver && own.has(stand.session));
    return { spot, state: stateOf(goodFrames, frames, wasMissed), goodFrames, frames };
  });
}

function stateOf(goodFrames: number, frames: number, wasMissed: boolean): CoverageState {
  if (goodFrames > 0) return 'good';
  if (frames > 0) return 'unsure';
  return wasMissed ? 'missed' : 'to-come';
}

function emptyStands(arrangement: Arrangement, stood: readonly StoodAt[]): Coverage['emptyStands'] {
  const shown = new Set(
    arrangement.exposures
      .filter((exposure) => exposure.role === 'bike')
      .map((exposure) => `${exposure.session}|${exposure.spot}`),
  );
  return stood
    .filter((stand) => stand.isSaid && stand.isOver && !shown.has(`${stand.session}|${stand.spot}`))
    .map(({ spot, session }) => ({ spot, session }));
}

const sum = <Item>(items: readonly Item[], of: (item: Item) => number): number =>
  items.reduce((total, item) => total + of(item), 0);
