/** What to set at one spot, group beside group: the ladder of shutters, and what they rest on. */
import type { SpotId } from '../../core/ids.js';
import { ladderTable, type SpotSettings } from '../../core/plan/index.js';
import { type WallMs, wallMsOf } from '../../core/units.js';
import type { DayState } from '../../host/day/types.js';
import { DeskError } from '../DeskError.js';
import type { LadderView } from '../planTypes.js';
import { knownOf } from '../views/known.js';
import { clockOf } from '../views/wallTime.js';
import type { PlanKnown } from './planKnown.js';
import { planSpotView } from './planView.js';

/** In the light of `at`; null: of noon. */
export function ladderView(state: DayState, plan: PlanKnown, id: string, asked: WallMs | null): LadderView {
  const spot = planSpotView(plan, id);
  const at = asked ?? wallMsOf(plan.day.day + 12 * 3_600_000);
  const { groups } = knownOf(state);
  const columns = groups.flatMap((group) => {
    const settings = plan.day.answers?.settings(id as SpotId, group.key, at) ?? null;
    return settings === null ? [] : [{ group, settings }];
  });
  const [first] = columns;
  if (spot === null || first === undefined)
    throw new DeskError(
      404,
      `Expected a spot of the drawn circuit that sees the track but got ${id.slice(0, 40)}. Draw it, or turn its view to the track.`,
    );
  return {
    asOf: state.asOf,
    spot,
    at,
    columns: columns.map(({ group, settings }) => ({
      group,
      speed: settings.speed,
      otherSpeeds: settings.otherSpeeds,
      focalMm: Math.round(settings.framing.usedFocalMm),
      frameM: settings.framing.widthM,
      panDegPerS: settings.panDegPerS,
      unfollowedBlurPx: settings.unfollowedBlurPx,
      start: settings.ladder.start,
      end: settings.ladder.end,
      words: settings.ladder.words,
    })),
    rows: ladderTable(columns.map(({ group, settings }) => ({ group: group.key, ladder: settings.ladder }))),
    practice: first.settings.ladder.practice,
    settings: settingsWords(first.settings, at),
  };
}

/** Light, depth and shimmer hang on the spot and the hour; the first group's shutter stands for all. */
function settingsWords({ exposure, depthOfFieldM, shimmer, framing, ladder }: SpotSettings, at: WallMs): string[] {
  const { atStart, compensation, notes } = exposure;
  const stops = (range: readonly [number, number]) => `${signed(range[0])} to ${signed(range[1])} EV`;
  return [
    ...(atStart === null
      ? []
      : [
          `At ${clockOf(at)} about ${atStart.shutter}, f/${atStart.fNumber}, ISO ${atStart.iso}; a test frame knows better.`,
        ]),
    ...(compensation.light === null
      ? []
      : [`Backlight: ${stops(compensation.light.range)} on a meter, common practice.`]),
    ...notes,
    ...(depthOfFieldM === null
      ? []
      : [
          `Sharp from ${depthOfFieldM.near.toFixed(1)} m to ${depthOfFieldM.far === null ? 'the far end' : `${depthOfFieldM.far.toFixed(1)} m`} at ${ladder.start}.`,
        ]),
    ...framing.notes,
    ...(shimmer.isToWatch ? shimmer.reasons : []),
  ];
}

const signed = (stops: number): string => `${stops > 0 ? '+' : stops < 0 ? '−' : ''}${Math.abs(stops).toFixed(1)}`;
