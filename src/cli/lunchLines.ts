/** Lunch as lines of a terminal. */
import type { Rider } from '../core/arrange/types.js';
import type { GroupMorning, Watched } from '../core/cover/lunch/types.js';
import type { SpotId } from '../core/ids.js';
import type { DifferenceRow, GroupGain, LapSoFar } from '../core/plan/lunch/index.js';
import { clockOf, dayInWords } from '../core/plan/sheet/words.js';
import type { KitRecord } from '../core/review/kit/index.js';
import type { AfternoonView, LunchView, NextMeeting } from '../host/plan/lunch/types.js';
import type { SheetDay } from '../host/plan/sheet/sheetOfDay.js';
import { counted, onOneLine } from './words.js';

/** More do not fit one screen; the desk has them all. */
const MOST_WATCHED = 16;

interface Known {
  readonly spotName: (spot: SpotId) => string;
  readonly riders: ReadonlyMap<string, Rider>;
  readonly lunch: LunchView;
}

export function lunchLines(day: SheetDay, lunch: LunchView, afternoon: AfternoonView | null): readonly string[] {
  const names = new Map(lunch.spots.map(({ id, name }) => [id, name]));
  const known: Known = {
    spotName: (spot) => names.get(spot) ?? spot,
    riders: new Map(day.state.arrangement.riders.map((rider) => [rider.key, rider])),
    lunch,
  };
  const { groups, watch, neverSeen } = lunch.morning;
  const more = watch.length - MOST_WATCHED;
  return [
    `${onOneLine(day.state.about.name)}, ${dayInWords(lunch.day)}: as it stands at ${clockOf(lunch.from)}.`,
    ...groups.flatMap((group) => groupLines(known, group)),
    ...under(
      'Never seen',
      (neverSeen ?? []).map(({ words }) => words),
    ),
    ...under('Look for', [
      ...watch.slice(0, MOST_WATCHED).map((one) => watchLine(known, one, meetingsOf(lunch, afternoon).get(one.rider))),
      ...(more > 0 ? [`and ${more} more that have not enough`] : []),
    ]),
    ...under('The kit', kitSentences(lunch)),
    ...lunch.palette.flatMap(({ group, sentences }) => under(`Palette of ${group} (guess)`, sentences)),
    ...afternoonLines(known, afternoon),
  ].map((line) => onOneLine(line));
}

/** Each shutter by spot and group is what `tyrewall kit` prints; at lunch the verdict is enough. */
const kitSentences = ({ kit: { sharpness: _, ...records } }: LunchView): readonly string[] =>
  Object.values(records).flatMap((ones: readonly KitRecord[]) => ones.map(({ sentence }) => sentence));

const meetingsOf = (lunch: LunchView, afternoon: AfternoonView | null): LunchView['meetings'] =>
  afternoon?.kind === 'afternoon' ? afternoon.meetings : lunch.meetings;

const under = (title: string, lines: readonly string[]): readonly string[] =>
  lines.length === 0 ? [] : ['', title, ...lines.map((line) => `  ${line}`)];

function groupLines({ spotName }: Known, one: GroupMorning): readonly string[] {
  const stood = one.spots.filter((spot) => spot.stood > 0 || spot.good + spot.unsure > 0);
  return under(`${one.group ?? 'No group known'}: ${counted(one.riders, 'rider')} found`, [
    `${one.enough.length} with enough, ${one.riders - one.enough.length} short of it, ${one.thin.length} thin${one.lap === null ? '' : `, ${lapWords(one.lap)}`}`,
    ...(one.neverShown === null
      ? []
      : [`in no picture: ${one.neverShown.from} to ${one.neverShown.to} (guess). ${one.neverShown.reason}`]),
    ...stood.map(
      ({ spot, good, unsure, missed }) => `${spotName(spot)}: good ${good}, unsure ${unsure}, missed ${missed}`,
    ),
  ]);
}

function lapWords({ ms, laps }: LapSoFar): string {
  const seconds = Math.round(ms / 1000);
  return `lap so far ${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')} (guess, of ${counted(laps, 'lap')})`;
}

function watchLine(
  { riders, spotName, lunch: { outNoMore } }: Known,
  one: Watched,
  next: NextMeeting | undefined,
): string {
  const rider = riders.get(one.rider);
  const guess = rider?.numberSource?.kind === 'guessed' ? '?' : '';
  const who = [rider?.code, rider?.livery, ...(rider?.number ? [`[${rider.number}${guess}]`] : [])].join(' ');
  return [
    `${who}: ${one.why}`,
    ...(one.missed.length === 0 ? [] : [`not yet from ${one.missed.map(spotName).join(', ')}`]),
    ...(one.lap === null ? [] : [lapWords(one.lap)]),
    one.group !== null && outNoMore.includes(one.group)
      ? 'no session of theirs is to come'
      : next === undefined
        ? 'the plan meets this rider nowhere'
        : `next ${next.stretch}, ${clockOf(next.from)}, ${spotName(next.spot)}`,
    ...(one.wants === undefined ? [] : [`booked: ${one.wants}`]),
  ].join('; ');
}

function afternoonLines(known: Known, view: AfternoonView | null): readonly string[] {
  if (view === null) return under('The afternoon', known.lunch.cannotPlan);
  if (view.kind === 'none') return under('The afternoon', [view.sentence]);
  const { kept, rows, gains, remarks } = view.afternoon;
  return [
    ...under('The afternoon, kept and found', [
      ...(kept === null ? ['No plan was taken for it.'] : kept.troubles),
      ...remarks,
      ...rows.map((row) => rowLine(known, row)),
    ]),
    ...under('Riders with enough (guess)', gains.map(gainLine)),
    ...under('Mind', view.cautions.slice(0, 1)),
  ];
}

function rowLine({ spotName }: Known, { kind, stretch, from, kept, found, reason }: DifferenceRow): string {
  const name = (spot: SpotId | null): string => (spot === null ? 'on the way' : spotName(spot));
  const where =
    kind === 'same'
      ? `${name(found)}, as planned`
      : kind === 'only-found' && kept === null
        ? `new: ${name(found)}`
        : `${name(kept)} → ${name(found)}`;
  return `${clockOf(from)}  ${stretch}: ${where}. ${reason}`;
}

const gainLine = ({ group, riders, now, kept, found }: GroupGain): string =>
  `${group}: ${Math.round(now)} of ${riders} now; at the end ${kept === null ? '' : `${Math.round(kept)} by the plan kept, `}${Math.round(found)} by the plan found`;
