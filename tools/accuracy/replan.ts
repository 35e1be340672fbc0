/**
 * What planning again at lunch is worth: seeded days planned the evening before by the solver, a morning with its troubles, then
 * the afternoon twice, by the morning's plan kept and by the plan found from the morning's gaps, as the program sees them. Both
 * meet the same riders on the same laps with the same skill and luck, and miss what they cannot reach in the time. Counted at
 * the day's end are riders with three spots and eight good frames, of all who were on the track. Beside it: looking, with as
 * many bursts, for those on the watch list; a search that knows the truth; and the plan found from another day's morning, which
 * shows what is the morning's and what is only a longer search. Plans are searched for as the solver does at first, by as many
 * steps each time and not by the clock: the same days give the same figures on any machine. All hangs on the one plan of the evening.
 */
import { DAY_START } from '../../demo/simulated-day/trackDay.js';
import type { Morning } from '../../src/core/cover/lunch/index.js';
import type { SpotId } from '../../src/core/ids.js';
import {
  betterDay,
  type DayInputs,
  type DayProblem,
  type FoundPlan,
  greedyDay,
  problemOfDay,
  type Stay,
  type Stretch,
} from '../../src/core/plan/day/index.js';
import { AFTERNOON_AIM, type AfternoonAsked, planAgain } from '../../src/core/plan/lunch/index.js';
import { type WallMs, wallMsOf } from '../../src/core/units.js';
import type { CircuitAnswers } from '../../src/host/plan/sheet/circuitAnswers.js';
import { followed, type Stood } from './replan/followed.js';
import { bestKnowing } from './replan/headroom.js';
import { type LookedFor, NOBODY, photograph, type ShotPass } from './replan/photographs.js';
import { type Outcome, reportOf } from './replan/report.js';
import { answersOf, inputsOf, seenMorning } from './replan/seenMorning.js';
import { type TrueDay, trueDay } from './replan/trueDay.js';

const DAYS = 20;
/** The evening before there are minutes. */
const EVENING_SEARCHES = 4;
const AT_LUNCH = wallMsOf(DAY_START + 4.5 * 3_600_000);
const AT_NIGHT = wallMsOf(DAY_START + 14 * 3_600_000);
/** On a phone's sheet. */
const MOST_WATCHED = 8;
/** Afternoons of one day that differ in nothing but luck, to count less of it. */
const LUCKS = [1, 2, 3, 4, 5, 6];
const THE_MORNING = 0;

export async function replanAccuracy(seeds = Array.from({ length: DAYS }, (_, i) => i + 1)) {
  const skies = skiesOfDay();
  const clear = skies(false, false);
  const evening = eveningPlan(trueDay(seeds[0]!, clear.views), clear);
  const outcomes: Outcome[] = [];
  let before: Morning | null = null;
  for (const seed of seeds) {
    const day = trueDay(seed, clear.views);
    const { isOvercast, isOvercastAfter, rainFrom } = day.troubles;
    const answers = skies(isOvercast, isOvercastAfter || rainFrom !== null);
    const played = await playDay(day, evening, answers, before);
    outcomes.push(played.outcome);
    before = played.morning;
  }
  return reportOf(outcomes, `${AFTERNOON_AIM.spots} spots and ${AFTERNOON_AIM.goodFrames} good frames`);
}

/** By whether it is overcast before lunch and after; each is worked out once. */
function skiesOfDay(): (isBefore: boolean, isAfter: boolean) => CircuitAnswers {
  const known = new Map<string, CircuitAnswers>();
  return (isBefore, isAfter) => {
    const key = `${isBefore} ${isAfter}`;
    const answers =
      known.get(key) ??
      answersOf([
        ...(isBefore ? [{ from: DAY_START as WallMs, to: AT_LUNCH, is: 'overcast' as const }] : []),
        ...(isAfter ? [{ from: AT_LUNCH, to: AT_NIGHT, is: 'overcast' as const }] : []),
      ]);
    known.set(key, answers);
    return answers;
  };
}

/** Nothing that is known the evening before tells one day from another. */
function eveningPlan({ planned }: TrueDay, answers: CircuitAnswers): readonly Stay[] {
  const { problem } = problemOfDay({ ...inputsOf(planned, answers), demands: [], underWay: null });
  return searched(problem, EVENING_SEARCHES).stays;
}

function searched(problem: DayProblem, searches: number): FoundPlan {
  let found = greedyDay(problem);
  for (let search = 0; search < searches; search += 1) found = betterDay(problem, found);
  if (found === null)
    throw new Error('Expected a plan of the invented circuit but none was found that keeps all wishes.');
  return { kind: 'plan', ...found, bound: null, isProvenBest: false, from: 'greedy' };
}

async function playDay(
  day: TrueDay,
  evening: readonly Stay[],
  answers: CircuitAnswers,
  anotherMorning: Morning | null,
): Promise<{ readonly outcome: Outcome; readonly morning: Morning }> {
  const { timetable, troubles } = day;
  const inputs = inputsOf(timetable, answers);
  const restOfDay = (underWay: DayInputs['underWay']): DayProblem =>
    problemOfDay({ ...inputs, demands: [], underWay }).problem;
  const sessionOf = new Map(day.sessions.map((session) => [session.name, session]));
  const isMorning = ({ slot }: Stretch): boolean => !sessionOf.get(slot)!.isAfternoon;
  const isAway = ({ slot }: Stretch): boolean => troubles.away.includes(sessionOf.get(slot)!.round);
  const isClosed = (spot: SpotId, stretch: Stretch): boolean =>
    spot === troubles.closed?.spot && (troubles.closed.isAllDay || isMorning(stretch));
  const shoot = (stood: readonly Stood[], luck: number, whom: LookFor = () => NOBODY): readonly ShotPass[] =>
    stood.flatMap((one) =>
      photograph(day, one, { light: lightOf(answers, one), luck }, whom(one.stretch.group, one.spot)),
    );
  const wholeDay = restOfDay(null);
  const mornings = wholeDay.stretches.filter(isMorning);
  const there = new Set(mornings.filter((stretch) => !isAway(stretch)).map(({ name }) => name));
  const before = shoot(
    followed(
      wholeDay,
      evening.filter(({ stretch }) => there.has(stretch)),
      { isClosed, seed: day.seed },
    ),
    THE_MORNING,
  ).filter(({ session }) => sessionOf.get(session)!.round !== troubles.lostCard);
  const from = wallMsOf(Math.max(...mornings.map(({ to }) => to)));
  const toCome = restOfDay({ at: from, places: [null], had: [] });
  const morning = seenMorning(day, before, timetable, from);
  const planFrom = async (told: Morning): Promise<readonly Stay[]> => {
    const answer = await planAgain(
      {
        inputs: inputsOf(timetable, answers, { morning: told, wishes: saidAtLunch(day, from) }),
        morning: told,
        wish: { from, places: [null] },
        taken: evening,
      },
      async (problem: DayProblem) => searched(problem, 1),
      async () => false,
    );
    if ('kind' in answer) throw new Error(`Expected an afternoon but got: ${answer.sentence}`);
    return answer.found.stays;
  };
  const found = await planFrom(morning);
  const onWatch: LookFor = (group, spot) =>
    new Set(
      morning.watch
        .filter((one) => one.group === group && !one.spots.includes(spot))
        .slice(0, MOST_WATCHED)
        .map(({ rider }) => Number.parseInt(rider, 10)),
    );
  const enoughWith = (stays: readonly Stay[], whom?: LookFor): number => {
    const stood = followed(toCome, stays, { isClosed, seed: day.seed });
    return meanOf(LUCKS.map((luck) => countEnough(day, [...before, ...shoot(stood, luck, whom)])));
  };
  const knowing = await bestKnowing(
    {
      problem: problemOfDay({
        ...inputsOf(timetable, answers, { wishes: saidAtLunch(day, from) }),
        demands: [],
        underWay: { at: from, places: [null], had: [] },
      }).problem,
      before,
      riders: day.riders.length,
      shoot: (stretch, spot, luck) => shoot([{ stretch, spot, lateMs: 0 }], luck),
    },
    [found, evening.filter(({ stretch }) => toCome.stretches.some(({ name }) => name === stretch))],
  );
  const outcome: Outcome = {
    riders: new Set(day.goesBy.flat(2).map(({ rider }) => rider)).size,
    kept: enoughWith(evening),
    again: enoughWith(found),
    watched: enoughWith(found, onWatch),
    keptWatched: enoughWith(evening, onWatch),
    misled: anotherMorning && enoughWith(await planFrom(anotherMorning)),
    knowing: enoughWith(knowing),
    neverShown: neverShownOf(day, before, morning),
    troubles: [troubles.slipRule === 'sliding' ? 'sliding' : 'by the clock', ...troubles.words],
  };
  return { outcome, morning };
}

/** Of each group: who rode past anywhere in the morning and is in no picture, and the range told at lunch. */
function neverShownOf(day: TrueDay, before: readonly ShotPass[], morning: Morning): Outcome['neverShown'] {
  const shown = new Set(before.map(({ rider }) => rider));
  return morning.groups.flatMap(({ group, neverShown }) => {
    if (group === null || neverShown === null) return [];
    const rode = day.sessions.flatMap((session, i) =>
      session.group === group && !session.isAfternoon ? day.goesBy[i]!.flat().map(({ rider }) => rider) : [],
    );
    const truth = [...new Set(rode)].filter((rider) => !shown.has(rider)).length;
    return [{ truth, from: neverShown.from, to: neverShown.to }];
  });
}

/** What is said at lunch of the afternoon, by the marshals and by the forecast. */
function saidAtLunch(
  { troubles: { closed, rainFrom }, timetable }: TrueDay,
  from: WallMs,
): AfternoonAsked['inputs']['wishes'] {
  const to = wallMsOf(from + 12 * 3_600_000);
  const rains = timetable.slots.filter(({ name }) => rainFrom !== null && Number(name.slice(1)) >= rainFrom);
  const rain = rains.length === 0 ? null : wallMsOf(Math.min(...rains.map(({ start }) => start)));
  return [
    ...(closed?.isAllDay === true ? [{ kind: 'closed' as const, spot: closed.spot, from, to }] : []),
    ...(rain === null ? [] : [{ kind: 'rain' as const, from: rain, to }]),
  ];
}

type LookFor = (group: string, spot: SpotId) => LookedFor;

/** Bad light leaves fewer good frames, half of them at worst; assumed. */
const lightOf = ({ light }: CircuitAnswers, { stretch: { from, to }, spot }: Stood): number =>
  0.5 + 0.5 * light.shareAt(spot, wallMsOf((from + to) / 2)).share;

function countEnough(day: TrueDay, shots: readonly ShotPass[]): number {
  const byRider = day.riders.map(() => ({ spots: new Set<string>(), frames: 0 }));
  for (const { rider, spot, frames } of shots) {
    const good = frames.filter((isGood) => isGood).length;
    byRider[rider]!.frames += good;
    if (good > 0) byRider[rider]!.spots.add(spot);
  }
  return byRider.filter(({ spots, frames }) => spots.size >= AFTERNOON_AIM.spots && frames >= AFTERNOON_AIM.goodFrames)
    .length;
}

const meanOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
