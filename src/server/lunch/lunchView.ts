/** The day at lunch as the screen shows it: riders with their pictures, groups by spot, the afternoon both ways. */
import type { Watched } from '../../core/cover/lunch/types.js';
import type { GroupPalette } from '../../core/cover/palette/index.js';
import type { RiderKey, SpotId } from '../../core/ids.js';
import type { LapSoFar } from '../../core/plan/lunch/types.js';
import { unitIntervalOf } from '../../core/units.js';
import type { LunchView, NextMeeting } from '../../host/plan/lunch/types.js';
import type { GroupKeyView, RiderLineView, Spoken } from '../types.js';
import type { Known } from '../views/known.js';
import { riderLineOf, TAB_CSS } from '../views/riderLine.js';
import type { GroupLunchView, LunchSheetView, NextView, PaletteView, SpotRef, WatchView } from './types.js';

/** What follows from what is known; the plans and the clock come besides. */
export type MorningView = Pick<LunchSheetView, 'spots' | 'groups' | 'neverSeen' | 'palette' | 'cannotPlan'>;

export function morningView(known: Known, lunch: LunchView): MorningView {
  const { morning, palette, cannotPlan } = lunch;
  const spots = spotRefs(lunch);
  return {
    spots: [...spots.values()],
    groups: morning.groups.map(
      (group): GroupLunchView => ({
        group: groupOf(known, group.group),
        riders: group.riders,
        spots: group.spots.flatMap(({ spot, ...counts }) => {
          const at = spots.get(spot);
          return at ? [{ spot: at, ...counts }] : [];
        }),
        thin: linesOf(known, group.thin),
        enough: group.enough.length,
        lap: lapSpoken(group.lap),
        neverShown: neverShown(group.neverShown),
      }),
    ),
    neverSeen: morning.neverSeen?.map(({ number, words }) => ({ number: number ?? null, words })) ?? null,
    palette: palette.map((one) => paletteView(known, one)),
    cannotPlan,
  };
}

export const spotRefs = ({ spots }: LunchView): ReadonlyMap<SpotId, SpotRef> =>
  new Map(spots.map(({ id, number, name }) => [id, { id, number, name }]));

export const groupOf = (known: Known, key: string | null): GroupKeyView | null =>
  key === null ? null : (known.groupByKey.get(key) ?? null);

const linesOf = (known: Known, keys: readonly RiderKey[]): readonly RiderLineView[] =>
  keys.flatMap((key) => {
    const rider = known.riderByKey.get(key);
    return rider ? [riderLineOf(known, rider)] : [];
  });

/** As many laps as say so make it surer; one gap may be two laps of somebody else. */
const SURE_FROM_LAPS = 12;

function lapSpoken(lap: LapSoFar | null): Spoken | null {
  if (lap === null) return null;
  const seconds = Math.round(lap.ms / 1000);
  return {
    voice: 'pencilled',
    text: `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`,
    confidence: unitIntervalOf(lap.laps / (lap.laps + SURE_FROM_LAPS / 4)),
    reasons: [
      `Between passes of one spot, ${lap.laps === 1 ? 'one gap' : `${lap.laps} gaps`} of one lap; no timing was read.`,
    ],
  };
}

/** The range holds the truth in 95 of 100. */
const neverShown = (range: LunchView['morning']['groups'][number]['neverShown']): Spoken | null =>
  range && {
    voice: 'pencilled',
    text: range.from === range.to ? (range.to === 0 ? 'nobody' : `about ${range.to}`) : `${range.from} to ${range.to}`,
    confidence: unitIntervalOf(0.95),
    reasons: [range.reason],
  };

/** Fits a phone's eight and a laptop's two rows. */
const MOST_WATCHED = 16;

export function watchViews(
  known: Known,
  lunch: LunchView,
  found: ReadonlyMap<RiderKey, NextMeeting> | null,
): Pick<LunchSheetView, 'watch' | 'watchMore'> {
  const { morning, meetings, outNoMore } = lunch;
  const spots = spotRefs(lunch);
  const nextOf = (next: NextMeeting | undefined): NextView | null => {
    const spot = next && spots.get(next.spot);
    return next && spot ? { stretch: next.stretch, from: next.from, spot, isNewSpot: next.isNewSpot } : null;
  };
  const watch = morning.watch.slice(0, MOST_WATCHED).flatMap((watched): readonly WatchView[] => {
    const line = lineOf(known, watched);
    if (line === null) return [];
    return [
      {
        ...line,
        group: groupOf(known, watched.group),
        why: watched.why,
        missed: watched.missed.flatMap((id) => spots.get(id) ?? []),
        lap: lapSpoken(watched.lap),
        isOutAgain: watched.group === null || !outNoMore.includes(watched.group),
        next: nextOf(meetings.get(watched.rider)),
        nextFound: nextOf(found?.get(watched.rider)),
        wants: watched.wants ?? null,
      },
    ];
  });
  return { watch, watchMore: Math.max(0, morning.watch.length - MOST_WATCHED) };
}

function lineOf(known: Known, watched: Watched): Pick<WatchView, 'rider' | 'helmet'> | null {
  const rider = known.riderByKey.get(watched.rider);
  if (!rider) return null;
  const helmet = rider.helmetColours?.[0]?.name;
  return {
    rider: riderLineOf(known, rider),
    helmet: helmet === undefined ? null : { name: helmet, css: TAB_CSS[helmet] },
  };
}

function paletteView(known: Known, one: GroupPalette): PaletteView {
  const coloursOf = (colours: GroupPalette['bikes']): PaletteView['bikes'] =>
    colours.map(({ colour, riders, share }) => ({
      name: colour,
      css: TAB_CSS[colour],
      riders: riders.length,
      share: unitIntervalOf(share.share),
      from: unitIntervalOf(share.from),
      to: unitIntervalOf(share.to),
    }));
  return {
    group: groupOf(known, one.group),
    sessions: one.sessions,
    riders: one.riders,
    bikes: coloursOf(one.bikes),
    leathers: coloursOf(one.leathers),
    alike: one.alike.map(({ riders }) => linesOf(known, riders)),
    sameWords: one.sameWords.map(({ sentence }) => sentence),
  };
}
