/** What worked, as lines of a terminal. */

import type { SpotId } from '../core/ids.js';
import { shutterName } from '../core/numeric/exposure.js';
import {
  type BothRates,
  type ComparedMeetings,
  type Debrief,
  type HitRate,
  type SpotYield,
  type StayAsHappened,
  type Taken,
  WENT,
} from '../core/review/debrief/index.js';
import { clockOf, counted, onOneLine } from './words.js';

type SpotName = (spot: SpotId) => string;
const MINUTE_MS = 60_000;

export function debriefLines(found: Debrief, spotName: SpotName): readonly string[] {
  const { all, unsure, exposures, withBike, keepers } = found;
  return [
    `${counted(exposures, 'frame')}, ${withBike} with a bike, ${counted(keepers, 'keeper')}`,
    all === null ? 'No bike was judged yet: nothing is said of what worked' : `Sharp and whole: ${rateWords(all)}`,
    ...(unsure > 0 ? [`${counted(unsure, 'bike')} could not be judged and stands in no rate`] : []),
    ...titled(
      'What the day shows',
      found.evidence.map(({ sentence }) => sentence),
    ),
    ...titled('By shutter', tableOf(found.byShutter, spotName)),
    ...titled('By spot', tableOf(found.bySpot, spotName)),
    ...titled('By group', tableOf(found.byGroup, spotName)),
    ...titled('By focal length', tableOf(found.byFocalLength, spotName)),
    ...titled('By spot, group, focal length and shutter', crossedLines(found.crossed, spotName)),
    ...titled(
      'By the hour',
      found.byHour.map((rate) => `${clockOf(rate.hour).slice(0, 5)}  ${rateWords(rate)}`),
    ),
    ...titled(
      'Shutters beside each other',
      found.compared.map(({ sentence }) => sentence),
    ),
    ...titled(
      'How low you can go',
      found.howLow.map(({ sentence }) => sentence),
    ),
    ...titled(
      'Focus',
      found.focus.map(({ sentence }) => sentence),
    ),
    ...titled(
      'Shimmer',
      found.shimmer.map(({ sentence }) => sentence),
    ),
    ...titled(
      'Keepers for the minutes spent',
      found.spots.map((spot) => yieldWords(spot, spotName)),
    ),
    ...titled(
      'The plan and the day',
      (found.asPlanned ?? []).map((stay) => plannedWords(stay, spotName)),
    ),
  ].map(onOneLine);
}

export const comparedLines = (
  other: string,
  { all, tables, apartByChance }: ComparedMeetings,
  spotName: SpotName,
): readonly string[] => {
  const rows = Object.values(tables).flat();
  const apart = rows.filter(({ isApart }) => isApart);
  return [
    ...titled(`Beside ${other}`, [
      ...(all === null ? [] : [`all: ${bothWords(all)}`]),
      `${rows.length} rates can be compared, ${apart.length} lie apart; about ${apartByChance} would by chance alone`,
      ...apart.map((row) => `${takenWords(row.after.of, spotName)}: ${bothWords(row)}`),
    ]),
  ].map(onOneLine);
};

const titled = (title: string, lines: readonly string[]): readonly string[] =>
  lines.length === 0 ? [] : ['', title, ...lines.map((line) => `  ${line}`)];

const tableOf = (rates: readonly HitRate[], spotName: SpotName): readonly string[] =>
  rates.map((rate) => `${takenWords(rate.of, spotName).padEnd(24)}  ${rateWords(rate)}`);

/** Rows of few passes are many and say little: they are counted here and stand in the data. */
function crossedLines(rates: readonly HitRate[], spotName: SpotName): readonly string[] {
  const few = rates.filter(({ isFew }) => isFew).length;
  const rest = `${few} more of fewer than ten passes each; --json has them`;
  return [
    ...tableOf(
      rates.filter(({ isFew }) => !isFew),
      spotName,
    ),
    ...(few === 0 ? [] : [rest]),
  ];
}

function takenWords({ spot, group, focalMm, shutterS }: Taken, spotName: SpotName): string {
  const parts = [
    spot && spotName(spot),
    group,
    focalMm === undefined ? undefined : `about ${focalMm} mm`,
    shutterS === undefined ? undefined : shutterName(shutterS),
  ];
  return parts.filter((part) => part !== undefined).join(', ');
}

function rateWords({ hits, bikes, passes, share, isFew, soft, cut }: Omit<HitRate, 'of'>): string {
  const range = `${percent(share.from)}–${percent(share.to)} %`;
  const missed = [soft > 0 ? `${soft} soft` : '', cut > 0 ? `${cut} cut` : ''].filter((part) => part !== '').join(', ');
  return `${percent(share.share)} % (${range}), ${hits} of ${bikes} in ${counted(passes, 'pass', 'passes')}${isFew ? ', few' : ''}${missed === '' ? '' : `; ${missed}`}`;
}

const bothWords = ({ before, after, difference }: BothRates): string =>
  `${percent(before.share.share)} % then, ${percent(after.share.share)} % now (${signed(difference.from)} to ${signed(difference.to)} points)`;

const percent = (share: number): number => Math.round(100 * share);
const signed = (share: number): string => (share < 0 ? `−${percent(-share)}` : `+${percent(share)}`);

function yieldWords(
  { spot, keepers, minutes, minutesFrom, riders, keepersAMinute }: SpotYield,
  spotName: SpotName,
): string {
  const name = spotName(spot).padEnd(16);
  const time = `${counted(keepers, 'keeper')} of ${counted(riders, 'rider')} in ${Math.round(minutes)} min${minutesFrom === 'said' ? '' : ' at the least, by the frames'}`;
  if (keepersAMinute === null) return `${name}  ${time}`;
  const { rate, from, to } = keepersAMinute;
  return `${name}  ${rate.toFixed(1)} a minute (${from.toFixed(1)}–${to.toFixed(1)}): ${time}`;
}

function plannedWords({ session, planned, stood, is, hits, movedMs }: StayAsHappened, spotName: SpotName): string {
  const names = (spots: readonly SpotId[]): string =>
    spots.length === 0 ? 'nowhere' : spots.map(spotName).join(' and ');
  const where = is === 'as-planned' ? names(stood) : `${names(planned)} planned, ${names(stood)} stood`;
  const moved = movedMs === null || movedMs === 0 ? '' : `, moved by ${Math.round(movedMs / MINUTE_MS)} min`;
  return `${session.padEnd(5)}  ${WENT[is]}: ${where}; ${hits} sharp and whole${moved}`;
}
