/** Frames of paddock, portraits, podium and briefing: what they are taken for, who is in them, what becomes of them. */
import { perhapsWalks } from '../../core/arrange/apart/index.js';
import type { Apart, Exposure } from '../../core/arrange/types.js';
import { apartKeepers } from '../../core/finish/index.js';
import type { FrameId } from '../../core/ids.js';
import type { ApartKind } from '../../core/log/apartSaid.js';
import type { DayState } from '../../host/day/types.js';
import type { ApartFrameView, ApartPlaceView, ApartView } from '../apartTypes.js';
import { aspectOf, bikeKey, type Known, knownOf, metadataOf, pointOf } from './known.js';
import { spokenBy } from './spoken.js';

const KIND_WORDS: Readonly<Record<ApartKind, string>> = {
  paddock: 'Paddock',
  portrait: 'Portrait',
  podium: 'Podium',
  briefing: 'Briefing',
};

export function apartView(state: DayState): ApartView {
  const known = knownOf(state);
  const kept = new Set(apartKeepers(state.arrangement, state.log).map(({ frameId }) => frameId));
  const codeOf = codesByBike(known);
  const frames = state.arrangement.exposures.flatMap((exposure) =>
    exposure.apart === undefined ? [] : [frameView(known, exposure, exposure.apart, kept, codeOf)],
  );
  const perhaps = perhapsWalks(state.arrangement).map((walk) =>
    walk.map((exposure) => frameView(known, exposure, exposure.perhapsApart, kept, codeOf)),
  );
  return { asOf: state.asOf, frames, perhaps, riders: frames.length === 0 ? [] : ridersOf(known) };
}

function frameView(
  known: Known,
  exposure: Exposure,
  { is, source }: Apart,
  kept: ReadonlySet<FrameId>,
  codeOf: ReadonlyMap<string, string>,
): ApartFrameView {
  const { frameId, mainFile, wall } = exposure;
  return {
    frameId,
    file: mainFile,
    wall,
    is,
    words: spokenBy(source, KIND_WORDS[is], known.initials),
    picture: { frameId, box: null, aspect: aspectOf(metadataOf(known, frameId)) },
    places: placesIn(known, frameId, codeOf),
    isKept: kept.has(frameId),
  };
}

/** Where nobody was detected there is one place, the middle. */
function placesIn(known: Known, frameId: FrameId, codeOf: ReadonlyMap<string, string>): readonly ApartPlaceView[] {
  const pixels = known.state.pixels.get(frameId);
  const seen = pixels?.kind === 'measured' ? [...pixels.subjects.entries()] : [];
  const subjects = seen
    .filter(([, { what }]) => what === 'person' || what === 'motorcycle')
    .sort(([, a], [, b]) => a.box[0] - b.box[0])
    .map(([subject, { what }]) => ({ subject, what: what === 'person' ? 'person' : 'bike' }));
  const all = subjects.length === 0 ? [{ subject: -1, what: 'whole picture' }] : subjects;
  return all.flatMap(({ subject, what }, i): readonly ApartPlaceView[] => {
    const point = pointOf(known, { frameId, subject });
    if (point === null) return [];
    const words = all.length === 1 ? what : `${what}, ${i + 1} of ${all.length} from the left`;
    return [{ point, words, rider: codeOf.get(bikeKey(frameId, subject)) ?? null }];
  });
}

const codesByBike = ({ state, riderByKey }: Known): ReadonlyMap<string, string> =>
  new Map(
    state.arrangement.passes.flatMap(({ bikes, rider }) =>
      bikes.map(({ frameId, subject }) => [bikeKey(frameId, subject), riderByKey.get(rider)?.code ?? ''] as const),
    ),
  );

/** As an entry list has them: by number, then those without one. */
const ridersOf = (known: Known): ApartView['riders'] =>
  known.state.arrangement.riders
    .flatMap((rider) => {
      const anchor = pointOf(known, rider.face);
      const words = [rider.number, rider.code, rider.livery].filter(Boolean).join(' · ');
      return anchor === null ? [] : [{ key: rider.key, number: Number(rider.number ?? Number.NaN), words, anchor }];
    })
    .sort((a, b) => (a.number || Number.MAX_SAFE_INTEGER) - (b.number || Number.MAX_SAFE_INTEGER))
    .map(({ key, words, anchor }) => ({ key, words, anchor }));
