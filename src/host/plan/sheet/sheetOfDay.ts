/** The run sheet of one day of a meeting, from all that was said and measured of it. */

import { cautionsOf } from '../../../core/plan/care/cautions.js';
import type { Caution } from '../../../core/plan/care/types.js';
import type { Circuit } from '../../../core/plan/circuit/types.js';
import { handsOf } from '../../../core/plan/sheet/hands.js';
import { runSheet } from '../../../core/plan/sheet/runSheet.js';
import { staysOf } from '../../../core/plan/sheet/stays.js';
import type { Contact, DayTimes, RunSheet, SheetInput, SheetSource } from '../../../core/plan/sheet/types.js';
import { DAY_MS } from '../../../core/plan/sheet/words.js';
import { lunchOf } from '../../../core/plan/timetable/index.js';
import { type WallMs, wallMsOf } from '../../../core/units.js';
import { spotsOf } from '../../day/derive.js';
import type { DayState } from '../../day/types.js';
import { type CircuitAnswers, circuitAnswers, startingHere } from './circuitAnswers.js';
import { lastSaid, photographersOf, skiesOf, sourceOf, speedsOf } from './saidOfPlan.js';
import { watchOf } from './watchOf.js';

export interface SheetWish {
  /** `YYYY-MM-DD`. */
  readonly date: string;
  readonly printedAt: WallMs;
  /** Only what is still to come then. */
  readonly from?: WallMs;
  /** From 0. */
  readonly photographer: number;
  /** A van may be driven where ways allow it; false: as it was said with the wishes, and on foot where nobody said. */
  readonly hasVehicle: boolean;
  /** For ways and spots that need one; absent: as it was said, and not had where nobody said. */
  readonly hasPermit?: boolean;
  readonly times: DayTimes;
  /** Who asks can say things by options, too. */
  readonly isInTerminal?: boolean;
}

export type SheetState = Pick<DayState, 'about' | 'timetable' | 'log' | 'coverage' | 'arrangement'>;

const CONTACTS: readonly Contact[] = [
  { label: 'Circuit control' },
  { label: 'Clerk of the course' },
  { label: 'First aid' },
];

/** All that the day's sheet and its plan are made from. */
export interface SheetDay {
  readonly state: SheetState;
  readonly day: WallMs;
  readonly slots: SheetInput['slots'];
  readonly spots: SheetInput['spots'];
  readonly circuit: Circuit | null;
  readonly answers: CircuitAnswers | null;
  /** For whom a plan is made. */
  readonly photographers: number;
  /** Null: nobody said, and it is not reckoned with. */
  readonly hasPermit: boolean | null;
}

/** `answering` may remember what a circuit answered of the same day before. */
export function sheetDayOf(
  state: SheetState,
  { date, hasVehicle, ...wish }: Pick<SheetWish, 'date' | 'hasVehicle' | 'hasPermit'>,
  answering: typeof circuitAnswers = circuitAnswers,
): SheetDay {
  const { about, timetable, log } = state;
  const day = wallMsOf(Date.parse(date));
  const circuit = lastSaid(log, 'circuit')?.circuit ?? null;
  const slots = (timetable?.slots ?? []).filter(({ start }) => start >= day && start < day + DAY_MS);
  const hasPermit = wish.hasPermit ?? lastSaid(log, 'permit')?.has ?? null;
  const lapRecordMs = circuit?.lapRecordMs ?? timetable?.fastestLapMs;
  const answers =
    circuit === null
      ? null
      : answering(circuit, {
          zone: about.zone,
          skies: skiesOf(log),
          speeds: speedsOf(log),
          groups: timetable?.groups ?? [],
          slots,
          day,
          hasVehicle: hasVehicle || (lastSaid(log, 'wishes')?.hasVehicle ?? false),
          hasPermit: hasPermit ?? false,
          ...(lapRecordMs === undefined ? {} : { lapRecordMs }),
        });
  const spots = circuit?.spots ?? (spotsOf(log, about.spots) as SheetInput['spots']);
  const photographers = photographersOf(log, day);
  return { state, day, slots, spots, circuit, answers, photographers, hasPermit };
}

/** How many run sheets the day has. `source` absent: the plan taken, or what the person says. */
export const sheetsOfDay = ({ state, day, photographers }: SheetDay, source?: SheetSource): number =>
  handsOf(source ?? sourceOf(state.log, state.timetable, day), day, photographers);

/** `source` absent: the plan taken, or what the person says. */
export function sheetOf(
  known: SheetDay,
  wish: SheetWish,
  source?: SheetSource,
  unseenWhy?: SheetInput['unseenWhy'],
): RunSheet {
  const { state, day, slots, spots, circuit, answers } = known;
  const { about, timetable, log } = state;
  const shown = source ?? sourceOf(log, timetable, day);
  const lunch = lunchOf(slots, timetable?.pauses ?? []);
  const input: SheetInput = {
    meeting: about.name,
    day,
    zone: about.zone,
    printedAt: wish.printedAt,
    ...(wish.from === undefined ? {} : { from: wish.from }),
    groups: timetable?.groups ?? [],
    slots,
    lunch: lunch === null ? null : { from: lunch.start, to: lunch.end },
    spots,
    ...(circuit === null ? {} : { circuit }),
    source: shown,
    photographer: wish.photographer,
    photographers: sheetsOfDay(known, shown),
    wayBetween: (from, to) => answers?.wayBetween(from, to) ?? { kind: 'not-known' },
    lightWords: (spot, from, to) => answers?.light.wordsOver(spot, from, to) ?? null,
    settings: (spot, group) => (answers === null ? null : startingHere(answers, spot, group)),
    ...(unseenWhy === undefined ? {} : { unseenWhy }),
    sunRows: answers?.light.sunRows ?? [],
    watch: watchOf(known, wish.from ?? wish.printedAt),
    cautions: [],
    contacts: CONTACTS,
    times: wish.times,
  };
  const sheet = runSheet({ ...input, cautions: cautionsHere(input, answers) });
  return { ...sheet, warnings: [...sheet.warnings, ...unsaidPermit(known, wish.isInTerminal === true)] };
}

/** Nobody is sent where a permit is needed before they said that they have it; that is told, for it may cost the day. */
function unsaidPermit({ circuit, hasPermit }: SheetDay, isInTerminal: boolean): readonly string[] {
  if (circuit === null || hasPermit !== null) return [];
  const ways = circuit.ways.filter(({ onFoot, byVehicle }) => [onFoot, byVehicle].includes('with-permit'));
  const spots = circuit.spots.filter(({ needsPermit }) => needsPermit === true);
  const closed = [
    ...(ways.length === 0 ? [] : [`${ways.length} of ${circuit.ways.length} ways`]),
    ...(spots.length === 0 ? [] : spots.map(({ number, name }) => `spot ${number} ${name}`)),
  ];
  const where = `on the circuit’s sheet${isInTerminal ? ', or with --permit or --no-permit' : ''}`;
  return closed.length === 0
    ? []
    : [
        `${closed.join(' and ')} want a permit, and nobody said whether you have it: the plan does without. Say it ${where}.`,
      ];
}

/** At the spots of these very stays, whether the plan was taken, said or only found. */
function cautionsHere(input: SheetInput, answers: CircuitAnswers | null): readonly Caution[] {
  const stays = staysOf(input).stays;
  const careStays = stays.flatMap(({ spot, from, to }) => {
    const view = answers?.views.get(spot.id);
    return view === undefined ? [] : [{ spot: view.spot, from, to, distanceM: view.distanceM }];
  });
  const stops = [null, ...stays.map(({ spot }) => spot.id), null];
  const legs = stops.slice(1).map((to, i) => input.wayBetween(stops[i] ?? null, to));
  const usesServiceRoad = legs.some((answer) => answer.kind === 'way' && answer.way.usesServiceRoad === true);
  return cautionsOf(careStays, usesServiceRoad);
}
