/** What the solver is asked for one day of a meeting before anything is photographed. Null: no circuit or no session. */
import type { SpotId } from '../../../core/ids.js';
import { clearSkyUvIndex } from '../../../core/numeric/heat.js';
import { type AskedDay, type DayInputs, problemOfDay } from '../../../core/plan/day/index.js';
import { guessLevel, paceFit, usualLap } from '../../../core/plan/index.js';
import { type WallMs, wallMsOf } from '../../../core/units.js';
import { entriesOf } from '../../day/derive.js';
import type { CircuitAnswers } from './circuitAnswers.js';
import { fastestLapOf } from './fastestLap.js';
import { lastSaid } from './saidOfPlan.js';
import type { SheetDay } from './sheetOfDay.js';

/** A break every two hours, as common practice has it. */
const REST_AFTER_MINUTES = 120;

export function askedDayOf(
  known: SheetDay,
  carriedKg: number,
  isHalved: boolean,
  underWay: DayInputs['underWay'] = null,
): AskedDay | null {
  const inputs = dayInputsOf(known, carriedKg, isHalved);
  return inputs && problemOfDay({ ...inputs, demands: [], underWay });
}

/** What does not hang on how far the day is. */
export type PlainDayInputs = Omit<DayInputs, 'demands' | 'underWay'>;

export function dayInputsOf(known: SheetDay, carriedKg: number, isHalved: boolean): PlainDayInputs | null {
  const { state, slots, circuit, answers, photographers } = known;
  if (circuit === null || answers === null || state.timetable === null || slots.length === 0) return null;
  return {
    timetable: { ...state.timetable, slots },
    isHalved,
    spots: circuit.spots.flatMap(({ id, name, hasShade, needsPermit }) => {
      const view = answers.views.get(id);
      const isBarred = needsPermit === true && known.hasPermit !== true;
      return view === undefined || isBarred ? [] : [{ id, name, side: view.sideSeen, hasShade: hasShade ?? false }];
    }),
    leftOut: leftOutOf(known),
    wayBetween(from, to) {
      const [a, b] = [from === 'paddock' ? null : from, to === 'paddock' ? null : to];
      const answer = answers.wayBetween(a, b);
      return answer.kind === 'way' ? { minutes: answer.way.minutes, isOnFoot: answer.way.by === 'foot' } : null;
    },
    lightAt: answers.light.shareAt,
    fitOf(spot, group) {
      const [settings, view] = [answers.settings(spot, group), answers.views.get(spot)];
      return settings === null || view === undefined ? null : paceFit(settings, view.aspect);
    },
    lapOf: lapsGuessed(known),
    needsShade: (from, to) => isStrongSun(answers, circuit.spots[0]?.id, from, to),
    clients: (entriesOf(state.log) ?? []).flatMap(({ class: group, wants }) =>
      wants === undefined ? [] : [{ group, spots: [] }],
    ),
    carriedKg,
    restAfterMinutes: REST_AFTER_MINUTES,
    photographers,
    wishes: lastSaid(state.log, 'wishes')?.wishes ?? [],
  };
}

function leftOutOf({ circuit, answers, hasPermit }: SheetDay): NonNullable<PlainDayInputs['leftOut']> {
  return (circuit?.spots ?? []).flatMap(({ id, name, needsPermit }) => {
    if (needsPermit === true && hasPermit !== true)
      return [
        {
          id,
          why: `${name}, which wants a permit, and ${hasPermit === null ? 'nobody said whether you have it' : 'you said that you have none'}`,
        },
      ];
    return answers?.views.has(id)
      ? []
      : [{ id, why: `${name}, from which no bit of the track is seen as it is drawn` }];
  });
}

/** Nobody was timed before the day: the group's usual multiple of the fastest lap. */
function lapsGuessed(known: SheetDay): NonNullable<PlainDayInputs['lapOf']> {
  const fastest = fastestLapOf(known);
  const nameOf = (key: string) => known.state.timetable?.groups.find((group) => group.key === key)?.name ?? key;
  return (group) => fastest && { ms: usualLap(fastest.ms, guessLevel(nameOf(group))), guessedFrom: fastest.words };
}

/** From an ultraviolet index of 3 on one protects oneself (WHO); under an overcast sky it is not reckoned. */
const PROTECT_FROM_INDEX = 3;

function isStrongSun({ light }: CircuitAnswers, spot: SpotId | undefined, from: WallMs, to: WallMs): boolean {
  const falling = spot === undefined ? null : light.lightAt(spot, wallMsOf((from + to) / 2));
  return falling?.kind === 'sun' && clearSkyUvIndex(falling.sun.altitudeDeg) >= PROTECT_FROM_INDEX;
}
