/** Another meeting's rates beside this one's: rule RE10. */
import {
  type BothRates,
  type ComparedMeetings,
  compareMeetings,
  type NamedDebrief,
} from '../../core/review/debrief/index.js';
import { type DebriefOfDay, titleOf } from '../../host/review/index.js';
import type { Known } from '../views/known.js';
import { counted } from '../views/words.js';
import { groupOf, labelOf, rangeView } from './rateView.js';
import type { BesideView, BothView } from './types.js';

const TITLES: Readonly<Record<keyof ComparedMeetings['tables'], string>> = {
  byShutter: 'By shutter',
  bySpot: 'By spot',
  byGroup: 'By group',
  byFocalLength: 'By focal length',
  crossed: 'By spot, group, focal length and shutter together',
};

/** @param other there; this meeting is here */
export function besideView(known: Known, found: DebriefOfDay, other: NamedDebrief): BesideView {
  const { meeting, spotNames, debrief } = found;
  const here: NamedDebrief = {
    meeting: titleOf(meeting),
    rates: debrief,
    spotName: (spot) => spotNames.get(spot) ?? spot,
  };
  const { all, tables, apartByChance } = compareMeetings(other, here);
  const rows = Object.values(tables).flat();
  return {
    there: other.meeting,
    here: here.meeting,
    sentence: sentenceOf(rows.length, rows.filter(({ isApart }) => isApart).length, apartByChance),
    all: all && bothView(known, all),
    tables: (Object.keys(TITLES) as (keyof typeof TITLES)[])
      .map((name) => ({ title: TITLES[name], rows: apartFirst(tables[name]).map((both) => bothView(known, both)) }))
      .filter((table) => table.rows.length > 0),
  };
}

function sentenceOf(rows: number, apart: number, byChance: number): string {
  if (rows === 0) return 'Nothing was done alike at both, so no row can be set beside another.';
  const chance = byChance === 0 ? 'hardly one' : `about ${byChance}`;
  return `${counted(rows, 'rate')} can be set beside each other, and ${apart} of them ${apart === 1 ? 'lies' : 'lie'} apart; ${chance} would by chance alone.`;
}

const apartFirst = (rows: readonly BothRates[]): readonly BothRates[] =>
  rows.toSorted((a, b) => Number(b.isApart) - Number(a.isApart));

const bothView = (known: Known, { before, after, difference, isApart }: BothRates): BothView => ({
  label: labelOf(known, after.of),
  group: groupOf(known, after.of),
  there: rangeView(before),
  here: rangeView(after),
  words: `${points(difference.from)} to ${points(difference.to)} in 100`,
  isApart,
});

function points(share: number): string {
  const value = Math.round(100 * share);
  return value < 0 ? `−${-value}` : value > 0 ? `+${value}` : '0';
}
