/** The afternoon kept beside the afternoon found. */
import { gapOf } from '../../core/plan/day/index.js';
import type { AfternoonView, LunchView } from '../../host/plan/lunch/types.js';
import type { Known } from '../views/known.js';
import { groupOf, spotRefs } from './lunchView.js';
import type { CompareView, DifferenceView, GainView } from './types.js';

export function compareView(
  known: Known,
  lunch: LunchView,
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
    photographers: 1 + Math.max(0, ...afternoon.rows.map(({ photographer }) => photographer)),
  };
}

function howSure(found: Extract<AfternoonView, { readonly kind: 'afternoon' }>['afternoon']['found']): string {
  if (found.isProvenBest) return 'Proved the best for these walks, this light and what is owed.';
  const gap = gapOf(found);
  return gap === null
    ? 'How far it is from the best is not known: the search was stopped early.'
    : `At most ${(100 * gap).toFixed(1)} % from the best there can be.`;
}
