/** One day of the plan out of the log: where one stands, the sun over it, the ways; what care and packing list are drawn from. */
import type { SpotId } from '../../core/ids.js';
import type { Decision, DecisionKind } from '../../core/log/types.js';
import { sunAt } from '../../core/numeric/solar.js';
import { epochOfWall } from '../../core/numeric/wallTime.js';
import { type CareOfPlan, careOfPlan, staysOfStands } from '../../core/plan/care/plannedCare.js';
import { viewOf } from '../../core/plan/circuit/spotView.js';
import { layTrack } from '../../core/plan/circuit/track.js';
import type { Circuit, CircuitSpot } from '../../core/plan/circuit/types.js';
import { travelOver } from '../../core/plan/circuit/ways/legs.js';
import { stretchesByName } from '../../core/plan/day/stretchesOfDay.js';
import type { Stay, Stretch } from '../../core/plan/day/types.js';
import { standsByHand } from '../../core/plan/sheet/hands.js';
import type { Timetable } from '../../core/plan/types.js';
import { type Degrees, type Metres, type WallMs, wallMsOf } from '../../core/units.js';
import type { MeetingAbout } from '../meeting/types.js';

/** What of a meeting is needed; no picture is. */
export interface PlannedState {
  readonly about: MeetingAbout;
  readonly timetable: Timetable | null;
  readonly log: { readonly inForce: readonly { readonly decision: Decision }[] };
}

export interface PlannedCareDay extends CareOfPlan {
  /** `YYYY-MM-DD`. */
  readonly date: string;
  /** Those that are stood at, in the circuit's order. */
  readonly spots: readonly CircuitSpot[];
  /** Null: nobody said where they stand. */
  readonly sessions: number | null;
  readonly lapMs: Circuit['lapRecordMs'] | null;
  readonly sunAltitudeDeg: ((at: WallMs) => Degrees) | null;
}

const DAY_MS = 86_400_000;

/** `asked`, else the first day on which the plan stands anywhere, else the meeting's first. */
export function plannedDay(state: PlannedState, asked?: string): PlannedCareDay {
  const circuit = lastSaid(state, 'circuit')?.circuit;
  const { stays, stretches } = placedOf(state);
  const dates = [...new Set(stretches.map(({ from }) => dateOf(from)))].sort();
  const date = asked ?? dates[0] ?? state.about.firstDay;
  const lapMs = state.timetable?.fastestLapMs ?? circuit?.lapRecordMs ?? null;
  const ofDate = stretches.filter(({ from }) => dateOf(from) === date);
  if (circuit === undefined)
    return {
      date,
      stays: [],
      spots: [],
      sessions: sessionsOf(ofDate),
      usesServiceRoad: false,
      lapMs,
      sunAltitudeDeg: null,
    };
  const care = careOfPlan({
    stays,
    stretches: ofDate,
    ...seenSpots(circuit),
    bikesOut: headCounts(state),
    photographer: 0,
    ways: circuit.ways,
    legBetween: travelOver(circuit, { hasPermit: lastSaid(state, 'permit')?.has ?? false, hasVehicle: false })
      .legBetween,
  });
  const stood = new Set(care.stays.map(({ spot }) => spot.id));
  return {
    ...care,
    date,
    spots: circuit.spots.filter(({ id }) => stood.has(id)),
    sessions: sessionsOf(ofDate),
    lapMs,
    sunAltitudeDeg: (at) => sunAt(circuit.paddock, epochOfWall(at, circuit.zone)).altitudeDeg,
  };
}

const dateOf = (wall: WallMs): string => new Date(Math.floor(wall / DAY_MS) * DAY_MS).toISOString().slice(0, 10);

const sessionsOf = (stretches: readonly Stretch[]): number | null =>
  stretches.length === 0 ? null : new Set(stretches.map(({ slot }) => slot)).size;

function lastSaid<K extends DecisionKind>({ log }: PlannedState, kind: K): Extract<Decision, { kind: K }> | undefined {
  return log.inForce.findLast(({ decision }) => decision.kind === kind)?.decision as
    | Extract<Decision, { kind: K }>
    | undefined;
}

/** The plan that was taken, else what the person says of where they stand. */
function placedOf(state: PlannedState): { readonly stays: readonly Stay[]; readonly stretches: readonly Stretch[] } {
  const slots = state.timetable?.slots ?? [];
  const taken = lastSaid(state, 'plan-taken');
  if (taken === undefined) {
    const stands = state.log.inForce.flatMap(({ decision }) => (decision.kind === 'stood-at' ? [decision] : []));
    const days = new Set(stands.map(({ from }) => Math.floor(from / DAY_MS) * DAY_MS));
    const own = [...days].flatMap((day) => standsByHand(stands, wallMsOf(day))[0] ?? []);
    return staysOfStands(own, slots);
  }
  const stays = taken.stays.filter(({ photographer, spot }) => photographer === 0 && spot !== null);
  const names = new Set(stays.map(({ stretch }) => stretch));
  // Of several days the first that has the name.
  const byName = new Map(
    stretchesByName(slots)
      .map((stretch) => [stretch.name, stretch])
      .toReversed() as [string, Stretch][],
  );
  return { stays, stretches: [...names].flatMap((name) => byName.get(name) ?? []) };
}

interface SeenSpots {
  /** With what can be had there, as drawn, where nobody said it: a bend has its cautions. */
  readonly spots: readonly CircuitSpot[];
  readonly distanceM: ReadonlyMap<SpotId, Metres>;
}

function seenSpots(circuit: Circuit): SeenSpots {
  const track = layTrack(circuit);
  const distanceM = new Map<SpotId, Metres>();
  const spots = circuit.spots.map((spot) => {
    const view = viewOf(circuit, spot, track);
    const metres = view?.distanceM ?? spot.distanceM;
    if (metres !== undefined) distanceM.set(spot.id, metres);
    return view === null ? spot : { ...spot, moments: view.moments };
  });
  return { spots, distanceM };
}

function headCounts({ log }: PlannedState): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const { decision } of log.inForce)
    if (decision.kind === 'head-count') counts.set(decision.group, decision.riders);
  return counts;
}
