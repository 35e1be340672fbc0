/** Riders still to get, as the coverage of this moment knows them; before any picture, those who booked. */
import type { Rider } from '../../../core/arrange/types.js';
import type { ColourShare } from '../../../core/measure/types.js';
import { rgbOfLab } from '../../../core/numeric/colour.js';
import type { WatchLine } from '../../../core/plan/sheet/types.js';
import type { WallMs } from '../../../core/units.js';
import { entriesOf } from '../../day/derive.js';
import type { DayState } from '../../day/types.js';
import { morningOfDay } from '../lunch/morningOfDay.js';
import type { SheetDay } from './sheetOfDay.js';

/** As many a group as anybody keeps in mind, and the paper holds. */
const MOST_OF_GROUP = 8;

/** Most owed first, as the watch list at lunch has them. `now` null: the day is over. */
export function watchOf(known: SheetDay, now: WallMs | null): readonly WatchLine[] {
  const { log, coverage, arrangement } = known.state;
  const booked = (entriesOf(log) ?? []).filter(({ wants }) => wants !== undefined);
  if (arrangement.riders.length === 0)
    return booked.map(({ class: group, number, wants }) => ({ ...unseen('booked', group, number), wants: wants! }));
  const riders = new Map(arrangement.riders.map((rider) => [rider.key, rider]));
  const wheels = new Map(coverage.riders.map(({ rider, wheel }) => [rider, wheel]));
  const shown = new Map<string | null, number>();
  const { watch, neverSeen } = morningOfDay(known, now);
  const lines = watch.flatMap(({ rider: key, group, wants }): readonly WatchLine[] => {
    const count = shown.get(group) ?? 0;
    const rider = riders.get(key);
    if (rider === undefined || count >= MOST_OF_GROUP) return [];
    shown.set(group, count + 1);
    return [lineOf(rider, wheels.get(key) ?? [], wants)];
  });
  const never = (neverSeen ?? []).map(({ words, number }) => ({ ...unseen(words, null, number), isNeverSeen: true }));
  return [...lines, ...never];
}

const unseen = (words: string, group: string | null, number: string | undefined): WatchLine => ({
  group,
  words,
  paint: [],
  ...(number === undefined ? {} : { number }),
  wheel: [],
  isNeverSeen: false,
});

const lineOf = (
  rider: Rider,
  wheel: DayState['coverage']['riders'][number]['wheel'],
  wants: string | undefined,
): WatchLine => ({
  group: rider.group,
  words: rider.livery,
  paint: [...rider.bikeColours.slice(0, 2), ...(rider.helmetColours ?? []).slice(0, 1)].map(hexOf),
  ...(rider.number === null ? {} : { number: rider.number, isNumberGuessed: rider.numberSource?.kind === 'guessed' }),
  code: rider.code,
  wheel: wheel.map(({ state }) => state),
  isNeverSeen: false,
  ...(wants === undefined ? {} : { wants }),
});

const hexOf = ({ lab }: ColourShare): string =>
  `#${rgbOfLab(lab)
    .map((byte) => byte.toString(16).padStart(2, '0'))
    .join('')}`;
