/** What the day's own reckoning tells of a plan, whoever made it. */
import { type AskedDay, type Stay, whyUnseen } from '../core/plan/day/index.js';
import type { SheetSource } from '../core/plan/sheet/types.js';
import { askedDayOf } from '../host/plan/sheet/askedDay.js';
import type { OpenedDay } from './sheetDay.js';

/** In halves where the plan is; null: no circuit or no session. */
export const reckonedDayOf = ({ known, carriedKg }: OpenedDay, source: SheetSource): AskedDay | null =>
  askedDayOf(known, carriedKg, isInHalves(source));

const isInHalves = (source: SheetSource): boolean =>
  source.kind === 'plan' && source.stays.some(({ stretch }) => / (?:half|part \d+)$/.test(stretch));

/** A plan taken before may name what the day no longer has; the sheet says so, here it is passed over. */
export function staysWithin({ problem }: AskedDay, source: SheetSource): readonly Stay[] {
  if (source.kind === 'stands') return [];
  const stretches = new Set(problem.stretches.map(({ name }) => name));
  return source.stays.filter(
    ({ stretch, spot, photographer }) =>
      stretches.has(stretch) && photographer < problem.photographers && (spot === null || problem.spots.includes(spot)),
  );
}

/** By session; of what a person says nothing is known of why. */
export const unseenWhyOf = (asked: AskedDay | null, source: SheetSource): ReadonlyMap<string, string> =>
  asked === null || source.kind === 'stands' ? new Map() : whyUnseen(asked, staysWithin(asked, source));
