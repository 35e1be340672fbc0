/** The sentence that says how things stand, and the line under it. */
import type { WallMs } from '../../core/units.js';
import { unitIntervalOf } from '../../core/units.js';
import type { Judging } from '../../host/day/judgeRunner.js';
import type { Spoken } from '../types.js';
import type { Known } from './known.js';
import { printed } from './spoken.js';
import { clockOf, spanWords, timeLeftWords } from './wallTime.js';
import { counted } from './words.js';

/** A pause this long in the timetable is lunch (45–60 min is common practice, no source). */
const LUNCH_LEAST_MS = 30 * 60_000;

/** `Lunch.`, `N3 is out.`, `Evening.`: only where the timetable and the clock say so. */
export function momentOf(known: Known, now: WallMs): string {
  const slots = [...(known.state.timetable?.slots ?? [])].sort((a, b) => a.start - b.start);
  const first = slots[0];
  const last = slots.at(-1);
  if (!first || !last) return '';
  if (now >= last.end) return now - last.end < 12 * 3_600_000 ? 'Evening. ' : '';
  if (now < first.start) return '';
  const out = slots.find((slot) => slot.start <= now && now < slot.end);
  if (out) return `${out.name} is out. `;
  const next = slots.find((slot) => slot.start > now);
  const before = slots.findLast((slot) => slot.end <= now);
  return next && before && next.start - before.end >= LUNCH_LEAST_MS ? 'Lunch. ' : '';
}

export function headlineOf(known: Known, now: WallMs): readonly Spoken[] {
  const { arrangement, coverage, toMeasure } = known.state;
  const frames = arrangement.exposures.length;
  const riders = arrangement.riders.length;
  if (frames === 0) return [printed('No frames from this meeting yet.')];
  if (riders === 0 && toMeasure.left > 0)
    return [printed(`${counted(frames, 'frame')} are here; no rider is measured yet.`)];
  if (riders === 0) return [printed(`${counted(frames, 'frame')} are here, and no bike was found in them.`)];
  const thin = coverage.thin.length;
  const unseen = coverage.neverSeen?.length ?? 0;
  const opening = `${momentOf(known, now)}${counted(riders, 'rider')} ${riders === 1 ? 'is' : 'are'} in the pictures`;
  const thinWords = thin === 0 ? 'none is thin' : `${thin} ${thin === 1 ? 'is' : 'are'} thin`;
  return unseen === 0
    ? [printed(`${opening}; ${thinWords}.`)]
    : [printed(`${opening}; ${thinWords}, and ${unseen} of the entry list ${unseen === 1 ? 'is' : 'are'} in none.`)];
}

/** How many of the riders are guesses, so that the figure above is not taken for a measurement. */
export function unsureRidersOf(known: Known): Spoken | null {
  const unsure = known.state.arrangement.riders.flatMap((rider) =>
    rider.source.kind === 'guessed' && rider.source.confidence < 0.6 ? [rider.source.confidence] : [],
  );
  if (unsure.length === 0) return null;
  const mean = unsure.reduce((sum, value) => sum + value, 0) / unsure.length;
  return {
    voice: 'pencilled',
    text: `${counted(unsure.length, 'rider')} ${unsure.length === 1 ? 'is' : 'are'} a guess`,
    confidence: unitIntervalOf(mean),
    reasons: ['Each of these riders rests on few passes or on clues that do not all agree.'],
  };
}

export function leadOf(known: Known, now: WallMs): string {
  const { arrangement, toMeasure, judging, timetable, about } = known.state;
  const parts: string[] = [];
  const frames = arrangement.exposures.length;
  if (frames > 0 && toMeasure.left > 0) {
    const left = toMeasure.secondsLeft === null ? '' : `; ${timeLeftWords(toMeasure.secondsLeft)}`;
    parts.push(
      `Measured ${(frames - toMeasure.left).toLocaleString('en-GB')} of ${frames.toLocaleString('en-GB')}${left}. Everything shown is already true.`,
    );
  }
  const looking = lookingWords(judging);
  if (toMeasure.left === 0 && looking !== null) parts.push(looking);
  const next = (timetable?.slots ?? []).filter((slot) => slot.start > now).sort((a, b) => a.start - b.start)[0];
  if (next && next.start - now < 4 * 3_600_000)
    parts.push(
      `${next.name} goes out at ${clockOf(next.start)}, in ${spanWords(Math.ceil((next.start - now) / 60_000) * 60_000)}.`,
    );
  if (frames === 0) parts.push('Bring in a card: copying starts, and coverage appears as each session is measured.');
  else if (!timetable) parts.push('No timetable is said, so sessions carry figures and riders have no group.');
  else if (about.spots.length === 0) parts.push('No spots are known, so there are no wheels.');
  return parts.join(' ');
}

/** How far the look in full is, which choosing gains by; null where nothing is left of it. */
function lookingWords({ left, done, secondsLeft, heldUpBy }: Judging): string | null {
  if (left === 0) return null;
  const bikes = `${done.toLocaleString('en-GB')} of ${counted(done + left, 'bike')}`;
  if (heldUpBy !== null) return `Looked at ${bikes} in full, then stopped: ${heldUpBy}`;
  const time = secondsLeft === null ? '' : `; ${timeLeftWords(secondsLeft)}`;
  return `Looked at ${bikes} in full${time}. Choosing need not wait for it.`;
}
