/** The Plan sheet of one day: how the plan stands, light, wishes, stays and why. */

import type { Circuit } from '../../core/plan/circuit/types.js';
import { cutOffWords } from '../../core/plan/circuit/ways/cutOff.js';
import { type AskedDay, minutesLost, type Stay, whyStays } from '../../core/plan/day/index.js';
import { spokenOf } from '../../core/plan/day/stretchesOfDay.js';
import type { DayTimes, RunSheet, SheetSource, SheetSun } from '../../core/plan/sheet/types.js';
import { DAY_MS } from '../../core/plan/sheet/words.js';
import { type WallMs, wallMsOf } from '../../core/units.js';
import type { DayState } from '../../host/day/types.js';
import { lastSaid } from '../../host/plan/sheet/saidOfPlan.js';
import { type SheetWish, sheetOf, sheetsOfDay } from '../../host/plan/sheet/sheetOfDay.js';
import type { PlanSheetView, PlanSpotView, PlanStayView, PlanView } from '../planTypes.js';
import { knownOf } from '../views/known.js';
import { followedSince } from './followed.js';
import { type PlanKnown, staysOfSource, unseenWhy } from './planKnown.js';
import { headlineOf, leadOf, missingOf, wishText } from './planWords.js';
import type { Solving } from './solving.js';

export interface PlanAsked {
  readonly state: DayState;
  readonly plan: PlanKnown;
  readonly solving: Solving;
  readonly date: string;
  readonly now: WallMs;
  readonly times: DayTimes;
}

export function planView({ state, plan, solving: board, date, now, times }: PlanAsked): PlanView {
  const { initials, groups } = knownOf(state);
  const { day, asked } = plan;
  const found = board.found(date);
  const standing = asked === null ? [] : staysOfSource(asked, plan.source);
  const source = sourceShown(plan, found?.stays ?? null);
  const stays = asked === null ? [] : staysOfSource(asked, source);
  const sheets = sheetsOf(plan, source, { date, printedAt: now, times });
  const solving = board.view(date, plan, standing);
  const stands = sheets.reduce((sum, sheet) => sum + sheet.stands.length, 0);
  const shown = found !== null ? 'found' : stands === 0 ? 'none' : plan.source.kind === 'plan' ? 'taken' : 'said';
  const standsAt = new Set(sheets.flatMap((sheet) => sheet.stands.map(({ spot }) => spot.id))).size;
  const words = { shown, missing: missingOf(plan), stays, asked, groups, solving, stands, standsAt } as const;
  return {
    asOf: state.asOf,
    date,
    zone: state.about.zone,
    now,
    initials,
    headline: headlineOf(words),
    lead: leadOf(words),
    missing: words.missing,
    circuit: day.circuit,
    cutOff: day.circuit === null ? null : cutOffOf(day.circuit),
    groups,
    sessions: day.slots
      .flatMap(spokenOf)
      .map(({ name, group, from, to, isSighting }) => ({ name, group, from, to, isSighting })),
    spots: day.spots.map((spot) => planSpotView(plan, spot.id)!),
    sun: sheets[0]!.sun,
    highSun: highSunOf(sheets[0]!.sun),
    skies: skiesOf(state, day.day),
    wishes: (lastSaid(state.log, 'wishes')?.wishes ?? []).map((wish) => ({
      wish,
      text: wishText(wish, groups, day.spots),
    })),
    unheard: asked?.unheard ?? [],
    photographers: day.photographers,
    hasVehicle: lastSaid(state.log, 'wishes')?.hasVehicle ?? false,
    hasPermit: day.hasPermit,
    isUnderWay: plan.underWay !== null,
    shown,
    sheets: sheets.map((sheet) => sheetView(sheet, plan, now)),
    stays: asked === null ? [] : staysView(asked, stays),
    lost: asked === null || stays.length === 0 ? [] : lostOf(asked, stays, groups),
    cautions: sheets[0]!.cautions,
    followed: found === null ? followedSince(state.log, state.timetable, date, day.spots) : [],
    solving,
  };
}

const cutOffKnown = new WeakMap<Circuit, string | null>();

/** A drawing is another record after each change. */
function cutOffOf(circuit: Circuit): string | null {
  const known = cutOffKnown.get(circuit);
  if (known !== undefined) return known;
  const words = cutOffWords(circuit);
  cutOffKnown.set(circuit, words);
  return words;
}

/** What was found, not yet taken, is drawn in place of what stands. */
const sourceShown = ({ source, asked }: PlanKnown, found: readonly Stay[] | null): SheetSource =>
  found === null || asked === null ? source : { kind: 'plan', stays: found, stretches: asked.problem.stretches };

const drawn = new WeakMap<PlanKnown, { readonly asked: string; readonly sheets: readonly RunSheet[] }>();

/** One for each photographer; drawn again only where the plan or its times are others. */
function sheetsOf(
  plan: PlanKnown,
  source: SheetSource,
  wish: Pick<SheetWish, 'date' | 'printedAt' | 'times'>,
): readonly RunSheet[] {
  const asked = JSON.stringify([source, wish.date, wish.times]);
  const before = drawn.get(plan);
  if (before?.asked === asked) return before.sheets;
  const sheets = Array.from({ length: sheetsOfDay(plan.day, source) }, (_, photographer) =>
    sheetOf(plan.day, { ...wish, photographer, hasVehicle: false }, source, unseenWhy(plan, source)),
  );
  drawn.set(plan, { asked, sheets });
  return sheets;
}

export function planSpotView({ day }: PlanKnown, id: string): PlanSpotView | null {
  const spot = day.spots.find((one) => one.id === id);
  if (spot === undefined) return null;
  const drawn = day.circuit?.spots.find((one) => one.id === id);
  const view = day.answers?.views.get(spot.id);
  return {
    id: spot.id,
    number: spot.number,
    name: spot.name,
    needsPermit: drawn?.needsPermit ?? false,
    hasShade: drawn?.hasShade ?? false,
    view:
      view === undefined
        ? null
        : {
            azimuthDeg: view.spot.viewAzimuthDeg,
            aspect: view.aspect,
            side: view.sideSeen,
            distanceM: view.distanceM,
            moments: view.moments,
          },
  };
}

const sheetView = ({ rows, stands, warnings }: RunSheet, { day }: PlanKnown, now: WallMs): PlanSheetView => ({
  rows,
  stands: stands.map((stand) => ({ ...stand, isDone: stand.to <= now })),
  warnings,
  suns: stands.flatMap(({ spot, from, to }) => {
    const light = day.answers?.light.lightAt(spot.id, wallMsOf((from + to) / 2));
    return light === undefined || light === null || light.kind === 'night'
      ? []
      : [{ spot: spot.id, azimuthDeg: light.sun.azimuthDeg }];
  }),
});

function staysView(asked: AskedDay, stays: readonly Stay[]): readonly PlanStayView[] {
  const whys = new Map(whyStays(asked, stays).map(({ stay, words }) => [stay, words]));
  return stays.flatMap((stay) => {
    const stretch = asked.problem.stretches.find(({ name }) => name === stay.stretch);
    if (stretch === undefined) return [];
    return [{ ...stay, slot: stretch.slot, from: stretch.from, to: stretch.to, why: whys.get(stay) ?? null }];
  });
}

const lostOf = (asked: AskedDay, stays: readonly Stay[], groups: PlanView['groups']): PlanView['lost'] =>
  [...minutesLost(asked.problem, stays)].flatMap(([key, minutes]) => {
    const group = groups.find((one) => one.key === key);
    return group === undefined ? [] : [{ group, minutes: Math.round(minutes) }];
  });

/** From the threads: they are broken below 12°. */
function highSunOf(sun: readonly SheetSun[]): PlanView['highSun'] {
  const whole = (sun[0]?.threads ?? []).filter(({ kind }) => kind === 'whole').flatMap(({ points }) => points);
  const [first, last] = [whole[0], whole.at(-1)];
  return first === undefined || last === undefined ? null : { from: first.at, to: last.at };
}

const skiesOf = ({ log }: DayState, day: WallMs): PlanView['skies'] =>
  log.inForce.flatMap(({ decision, line }) =>
    decision.kind === 'sky' && decision.to > day && decision.from < day + DAY_MS
      ? [{ gesture: line.gesture, from: decision.from, to: decision.to, is: decision.is }]
      : [],
  );
