/** The sentence that says how things stand at lunch, and the line under it. */
import { AFTERNOON_AIM } from '../../core/plan/lunch/index.js';
import { unitIntervalOf, type WallMs } from '../../core/units.js';
import type { LunchView } from '../../host/plan/lunch/types.js';
import type { Spoken } from '../types.js';
import { momentOf } from '../views/headline.js';
import type { Known } from '../views/known.js';
import { printed } from '../views/spoken.js';
import { clockOf, spanWords } from '../views/wallTime.js';
import { counted } from '../views/words.js';
import { groupOf } from './lunchView.js';

type Morning = LunchView['morning'];

export function headlineAtLunch(known: Known, { morning }: LunchView, now: WallMs): readonly Spoken[] {
  const riders = morning.groups.reduce((sum, group) => sum + group.riders, 0);
  if (riders === 0) return [printed('No rider is in the pictures yet.')];
  const thin = morning.groups.reduce((sum, group) => sum + group.thin.length, 0);
  const opening = `${momentOf(known, now)}${counted(riders, 'rider')} ${riders === 1 ? 'is' : 'are'} in the pictures; ${thin === 0 ? 'none is thin' : `${thin} ${thin === 1 ? 'is' : 'are'} thin`}, ${shortWords(morning.groups)}`;
  const missing = neverShownOf(known, morning);
  return missing === null
    ? [printed(`${opening}.`)]
    : [printed(`${opening}, and`), missing, printed(missing.text === '1' ? 'is in none.' : 'are in none.')];
}

/** Thin is the rule for one session; the afternoon aims at more, and most are short of that at lunch. */
function shortWords(groups: Morning['groups']): string {
  const short = groups.reduce((sum, { riders, enough }) => sum + riders - enough.length, 0);
  const aim = `${AFTERNOON_AIM.spots} spots and ${AFTERNOON_AIM.goodFrames} good frames`;
  return short === 0 ? `all have ${aim}` : `${short} ${short === 1 ? 'has' : 'have'} not ${aim} yet`;
}

/** Ends of the groups' ranges added up: wider than it need be, never narrower. */
function neverShownOf(known: Known, { groups }: Morning): Extract<Spoken, { voice: 'pencilled' }> | null {
  const told = groups.flatMap(({ group, neverShown }) => (neverShown === null ? [] : [{ group, ...neverShown }]));
  const [from, to] = [told.reduce((sum, one) => sum + one.from, 0), told.reduce((sum, one) => sum + one.to, 0)];
  if (to === 0) return null;
  return {
    voice: 'pencilled',
    text: from === to ? String(to) : `${from} to ${to}`,
    confidence: unitIntervalOf(0.95),
    reasons: told.map(
      ({ group, reason, ...range }) =>
        `${groupOf(known, group)?.name ?? 'Group not known'}, ${range.from} to ${range.to}: ${reason}`,
    ),
  };
}

export function leadAtLunch(known: Known, lunch: LunchView, now: WallMs): readonly Spoken[] {
  const parts = [worstOff(known, lunch.morning), ...outNoMore(known, lunch), nextOut(known, now), stillMeasured(known)];
  return parts.filter((part) => part !== null).map(printed);
}

/** Fewer riders than these say little of a group. */
const LEAST_RIDERS = 3;

function worstOff(known: Known, { groups }: Morning): string | null {
  const shares = groups
    .filter(({ riders, thin }) => riders >= LEAST_RIDERS && thin.length > 0)
    .map((group) => ({ group, share: group.thin.length / group.riders }))
    .sort((a, b) => b.share - a.share);
  const [worst] = shares;
  if (worst === undefined || shares.length < 2) return null;
  const { group, riders, thin } = worst.group;
  return `${groupOf(known, group)?.name ?? 'Those without a group'}: ${thin.length} of ${riders} thin, the most.`;
}

/** Groups whose day is over though riders of theirs are short: no plan mends that. */
function outNoMore(known: Known, { morning: { groups }, outNoMore: over }: LunchView): readonly string[] {
  // Of a day that is over as a whole nothing need be said of each.
  if (groups.every(({ group }) => group === null || over.includes(group))) return [];
  return groups.flatMap(({ group, riders, enough }) => {
    if (group === null || !over.includes(group) || enough.length === riders) return [];
    const name = groupOf(known, group)?.name ?? group;
    return [`${name} has no session left: ${riders - enough.length} of ${riders} stay short.`];
  });
}

const SOON_MS = 4 * 3_600_000;

function nextOut({ state: { timetable } }: Known, now: WallMs): string | null {
  const next = (timetable?.slots ?? []).filter(({ start }) => start > now).sort((a, b) => a.start - b.start)[0];
  if (next === undefined || next.start - now > SOON_MS) return null;
  return `${next.name} goes out at ${clockOf(next.start)}, in ${spanWords(Math.ceil((next.start - now) / 60_000) * 60_000)}.`;
}

const stillMeasured = ({ state: { toMeasure } }: Known): string | null =>
  toMeasure.left === 0
    ? null
    : `${counted(toMeasure.left, 'frame')} still to be measured; what is shown is true already.`;
