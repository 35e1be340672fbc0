/** What a drawn circuit answers of one day: light, settings and ways. Without a drawing nothing is known of them. */
import type { SpotId } from '../../../core/ids.js';
import { viewOf } from '../../../core/plan/circuit/spotView.js';
import { layTrack } from '../../../core/plan/circuit/track.js';
import type { Circuit, SpotView } from '../../../core/plan/circuit/types.js';
import { type Leg, type Means, packingOf, travelOver } from '../../../core/plan/circuit/ways/legs.js';
import {
  guessLevel,
  type LightOfDay,
  lightOfDay,
  type Sky,
  type SpeedSources,
  type SpotSettings,
  settingsFor,
  startingSettings,
  USUAL_SENSOR,
} from '../../../core/plan/index.js';
import type { WayAnswer } from '../../../core/plan/sheet/types.js';
import type { Group, TimetableSlot } from '../../../core/plan/types.js';
import { type WallMs, wallMsOf } from '../../../core/units.js';

export interface CircuitAnswers {
  readonly views: ReadonlyMap<SpotId, SpotView>;
  readonly light: LightOfDay;
  /** In the light of `at`, else of noon. Null: the spot does not see the track. */
  settings(spot: SpotId, group: string, at?: WallMs): SpotSettings | null;
  wayBetween(from: SpotId | null, to: SpotId | null): WayAnswer;
}

export interface AnswersWish extends Means {
  readonly zone: string;
  readonly skies: readonly { readonly from: WallMs; readonly to: WallMs; readonly is: Sky }[];
  readonly groups: readonly Group[];
  /** Of the day. */
  readonly slots: readonly TimetableSlot[];
  readonly day: WallMs;
  /** A person's words about how quick a group goes by, in the order they were said. */
  readonly speeds?: readonly { readonly spot: SpotId; readonly group: string; readonly kmh: number }[];
  readonly lapRecordMs?: number;
}

const HOUR_MS = 3_600_000;

export function circuitAnswers(circuit: Circuit, wish: AnswersWish): CircuitAnswers {
  const track = layTrack(circuit);
  const seen = circuit.spots.map((spot) => viewOf(circuit, spot, track)).filter((view) => view !== null);
  const views = new Map(seen.map((view) => [view.spot.id, view]));
  const light = lightOfDay({
    views: seen,
    place: circuit.paddock,
    zone: wish.zone,
    skies: wish.skies,
    ...hoursOf(wish),
  });
  return {
    views,
    light,
    settings(spot, group, at = wallMsOf(wish.day + 12 * HOUR_MS)) {
      const view = views.get(spot);
      const falling = light.lightAt(spot, at) ?? { kind: 'night' };
      return view === undefined ? null : settingsHere(view, group, falling, wish, track.lengthM);
    },
    wayBetween: waysOver(circuit, wish),
  };
}

export const startingHere = (answers: CircuitAnswers, spot: SpotId, group: string) => {
  const [settings, view] = [answers.settings(spot, group), answers.views.get(spot)];
  return settings === null || view === undefined ? null : startingSettings(settings, view.aspect);
};

/** The ladder hangs on view and pace; only its exposure on the hour. */
const settingsHere = (
  view: SpotView,
  key: string,
  light: Parameters<typeof settingsFor>[0]['light'],
  wish: AnswersWish,
  lapLengthM: number,
): SpotSettings =>
  settingsFor({ view, group: key, speed: speedSources(view, key, wish, lapLengthM), light, sensor: USUAL_SENSOR });

/** How quick a group goes by, from whatever is known of it. */
export function speedSources(
  { spot }: SpotView,
  key: string,
  { groups, lapRecordMs, speeds = [] }: Pick<AnswersWish, 'groups' | 'lapRecordMs' | 'speeds'>,
  lapLengthM: number,
): SpeedSources {
  const nameOf = (group: string) => groups.find((one) => one.key === group)?.name ?? group;
  const here = new Map(speeds.filter((word) => word.spot === spot.id).map(({ group, kmh }) => [group, kmh]));
  const saidKmh = here.get(key);
  const others = [...here]
    .filter(([group]) => group !== key)
    .map(([group, kmh]) => ({ group: nameOf(group), level: guessLevel(nameOf(group)), kmh }));
  return {
    level: guessLevel(nameOf(key)),
    lapLengthM,
    others,
    ...(saidKmh === undefined ? {} : { saidKmh }),
    ...(lapRecordMs === undefined ? {} : { lapRecordMs }),
  };
}

function waysOver(circuit: Circuit, means: Means): CircuitAnswers['wayBetween'] {
  const travel = travelOver(circuit, means);
  const ways = new Map(circuit.ways.map((way) => [way.id, way]));
  return (from, to) => {
    if (circuit.ways.length === 0) return { kind: 'not-known' };
    const leg = travel.legBetween(from ?? 'paddock', to ?? 'paddock');
    if (leg === null) return { kind: 'no-way' };
    const words = crossingWords(leg, ways);
    const by = leg.parts.some((part) => part.by === 'vehicle') ? 'vehicle' : 'foot';
    const minutes = Math.ceil(leg.minutes + packingOf(leg));
    const usesServiceRoad = leg.parts.some(({ way }) => way !== null && ways.get(way)?.kind === 'service-road');
    return { kind: 'way', way: { minutes, by, usesServiceRoad, ...(words === '' ? {} : { words }) } };
  };
}

function crossingWords(leg: Leg, ways: ReadonlyMap<string, Circuit['ways'][number]>): string {
  const used = leg.parts.flatMap(({ way }) => (way === null ? [] : [ways.get(way)!]));
  const has = (crossing: 'bridge' | 'tunnel') => used.some((way) => way.crossing === crossing);
  return [
    ...(has('tunnel') ? ['by the tunnel'] : []),
    ...(has('bridge') ? ['over the bridge'] : []),
    ...(used.some(({ kind }) => kind === 'service-road') ? ['by the service road'] : []),
  ].join(', ');
}

/** Two hours more on either side, for sign-on and packing up. */
function hoursOf({ slots, day }: AnswersWish): { readonly from: WallMs; readonly to: WallMs } {
  const first = Math.min(day + 8 * HOUR_MS, ...slots.map(({ start }) => start));
  const last = Math.max(day + 18 * HOUR_MS, ...slots.map(({ end }) => end));
  return { from: wallMsOf(first - 2 * HOUR_MS), to: wallMsOf(last + 2 * HOUR_MS) };
}
