/** What planning again was worth, over all days and by what went wrong on them. */
import type { Figures } from '../../figures.js';

export interface Outcome {
  readonly riders: number;
  /** With enough at the day's end: by the morning's plan kept, by the plan found, by that with the watch list, and knowing all. */
  readonly kept: number;
  readonly again: number;
  readonly watched: number;
  readonly knowing: number;
  /** By the morning's plan kept, looking for those on the watch list: it needs no plan. */
  readonly keptWatched: number;
  /** By the plan found from another day's morning; null: there is none yet. */
  readonly misled: number | null;
  readonly troubles: readonly string[];
  /** Of each group: riders on the track in the morning whom no picture shows, and the range that was told. */
  readonly neverShown: readonly { readonly truth: number; readonly from: number; readonly to: number }[];
}

export function reportOf(outcomes: readonly Outcome[], aim: string): { rows: readonly string[]; figures: Figures } {
  const points = (pick: (one: Outcome) => number) => (one: Outcome) => (100 * (pick(one) - one.kept)) / one.riders;
  const [again, watched, knowing] = [
    points((one) => one.again),
    points((one) => one.watched),
    points((one) => one.knowing),
  ];
  const misled = outcomes.flatMap((one) => (one.misled === null ? [] : points(() => one.misled!)(one)));
  const share = (pick: (one: Outcome) => number) => meanOf(outcomes.map((one) => (100 * pick(one)) / one.riders));
  const ranges = outcomes.flatMap(({ neverShown }) => neverShown);
  const held = ranges.filter(({ truth, from, to }) => from <= truth && truth <= to).length;
  const unit = `percentage points, mean of ${outcomes.length} days`;
  const kinds = [...new Set(outcomes.flatMap(({ troubles }) => troubles))].sort();
  return {
    rows: [
      `riders with ${aim}: ${share(({ kept }) => kept).toFixed(1)} % by the morning’s plan kept, ${share((one) => one.again).toFixed(1)} % planned again, ${share((one) => one.watched).toFixed(1)} % looking for those on the watch list too, ${share((one) => one.knowing).toFixed(1)} % by a search that knows the truth`,
      `gain in percentage points (95 %): by the plan alone ${rangeOf(outcomes.map(again))}; with the watch list ${rangeOf(outcomes.map(watched))}, of which the watch list alone ${rangeOf(outcomes.map(points((one) => one.keptWatched)))}; knowing the truth ${rangeOf(outcomes.map(knowing))}`,
      `gain by the plan found from another day’s morning: ${misled.length < 2 ? 'not tried' : rangeOf(misled)}`,
      `riders in no picture of the morning: the range holds them in ${held} of ${ranges.length} groups (${meanOf(ranges.map(({ truth }) => truth)).toFixed(1)} a group; width ${meanOf(ranges.map(({ from, to }) => to - from)).toFixed(1)})`,
      ...kinds.map((kind) => {
        const own = outcomes.filter(({ troubles }) => troubles.includes(kind));
        const mean = (of: (one: Outcome) => number) => meanOf(own.map(of)).toFixed(1);
        return `  ${kind} (${own.length} days): ${mean(again)}, ${mean(watched)} with the watch list, ${mean(knowing)} knowing the truth`;
      }),
    ],
    figures: {
      'replan.gainPercentagePoints': { value: meanOf(outcomes.map(again)), unit, better: 'higher' },
      'replan.gainWithWatchListPercentagePoints': { value: meanOf(outcomes.map(watched)), unit, better: 'higher' },
      'replan.headroomPercentagePoints': { value: meanOf(outcomes.map(knowing)), unit, better: 'higher' },
      'replan.neverShownHeld': {
        value: held / ranges.length,
        unit: `share of ${ranges.length} groups`,
        better: 'higher',
      },
    },
  };
}

const meanOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

/** Student's t for 19 degrees of freedom, 97.5 %. */
const T_95 = 2.093;

function rangeOf(values: readonly number[]): string {
  const mean = meanOf(values);
  const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / Math.max(1, values.length - 1);
  const half = T_95 * Math.sqrt(variance / values.length);
  return `${mean.toFixed(1)} (${(mean - half).toFixed(1)} to ${(mean + half).toFixed(1)})`;
}
