/** The afternoon kept beside the afternoon found. */
import type { SpotId } from '../../core/ids.js';
import { toldGap } from '../../core/plan/day/index.js';
import type { Afternoon } from '../../core/plan/lunch/types.js';
import type { AfternoonView } from '../../host/plan/lunch/types.js';
import { lastSaid } from '../../host/plan/sheet/saidOfPlan.js';
import type { SheetDay } from '../../host/plan/sheet/sheetOfDay.js';
import type { Known } from '../views/known.js';
import type { LunchKnown } from './lunchKnown.js';
import { groupOf, spotRefs } from './lunchView.js';
import type { CompareView, DifferenceView, GainView, LegView, WaysView } from './types.js';

export function compareView(
  known: Known,
  { day, lunch }: Pick<LunchKnown, 'day' | 'lunch'>,
  { afternoon, cautions }: Extract<AfternoonView, { readonly kind: 'afternoon' }>,
): CompareView {
  const spots = spotRefs(lunch);
  return {
    from: afternoon.from,
    kept: afternoon.kept && { isWalkable: afternoon.kept.worth !== null, troubles: afternoon.kept.troubles },
    howSure: howSure(afternoon.found),
    rows: afternoon.rows.map(
      (row): DifferenceView => ({
        ...row,
        group: groupOf(known, row.group),
        kept: row.kept === null ? null : (spots.get(row.kept) ?? null),
        found: row.found === null ? null : (spots.get(row.found) ?? null),
      }),
    ),
    gains: afternoon.gains.map((gain): GainView => ({ ...gain, group: groupOf(known, gain.group) })),
    remarks: afternoon.remarks,
    cautions,
    photographers: day.photographers,
    ways: waysOf(day, afternoon),
  };
}

function waysOf({ circuit, answers, photographers, hasPermit, state }: SheetDay, { rows }: Afternoon): WaysView | null {
  if (circuit === null || answers === null || photographers > 1) return null;
  const legs = (spots: readonly (SpotId | null)[]): readonly LegView[] => {
    const stops = spots.filter((spot) => spot !== null).filter((spot, i, all) => spot !== all[i - 1]);
    return stops.map((to, i): LegView => {
      const from = stops[i - 1] ?? null;
      const answer = answers.wayBetween(from, to);
      return { from, to, minutes: answer.kind === 'way' ? answer.way.minutes : 0 };
    });
  };
  return {
    circuit,
    means: { hasPermit: hasPermit ?? false, hasVehicle: lastSaid(state.log, 'wishes')?.hasVehicle ?? false },
    kept: legs(rows.map(({ kept }) => kept)),
    found: legs(rows.map(({ found }) => found)),
  };
}

function howSure(found: Extract<AfternoonView, { readonly kind: 'afternoon' }>['afternoon']['found']): string {
  if (found.isProvenBest) return 'Proved the best for these walks, this light and what is owed.';
  const gap = toldGap(found);
  return gap === null
    ? 'How far it is from the best is not known.'
    : `At most ${(100 * gap).toFixed(1)} % from the best there can be.`;
}
