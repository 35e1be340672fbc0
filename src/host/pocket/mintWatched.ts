/** Names for riders who go on the watch list: from then on a tap at the side of the track means them, whatever is arranged. */
import { v7 as uuidv7 } from 'uuid';
import type { BikeRef, Rider } from '../../core/arrange/types.js';
import type { RiderId } from '../../core/ids.js';
import type { BikePoint, Decision } from '../../core/log/types.js';
import type { DayState } from '../day/types.js';
import type { SheetDay } from '../plan/sheet/sheetOfDay.js';

/** So many bikes hold a name where the arrangement moves. */
const MOST_ANCHORS = 12;

type Minted = Extract<Decision, { kind: 'rider-minted' }>;

export function mintWatched(
  state: Pick<DayState, 'arrangement' | 'pixels' | 'metadata'>,
  riders: readonly Rider[],
): readonly Minted[] {
  const fileOf = new Map(state.arrangement.exposures.map(({ frameId, mainFile }) => [frameId, mainFile]));
  return riders.flatMap((rider) => {
    const passes = rider.passes.map((index) => state.arrangement.passes[index]!);
    // Surest passes first, one bike of each.
    const bikes = [
      rider.face,
      ...passes.toSorted((a, b) => (b.confidence ?? 1) - (a.confidence ?? 1)).map(({ bikes: [first] }) => first!),
    ];
    const points = bikes.slice(0, MOST_ANCHORS).flatMap((bike) => pointOf(state, fileOf.get(bike.frameId), bike));
    if (points.length === 0) return [];
    return [{ kind: 'rider-minted', rider: uuidv7() as RiderId, points, shownAs: rider.key }];
  });
}

/** As the day will stand once it is arranged with these names; nobody waits for that beside the track. */
export function withMinted(known: SheetDay, minted: readonly Minted[]): SheetDay {
  const idOf = new Map(minted.map(({ shownAs, rider }) => [shownAs, rider]));
  const { arrangement } = known.state;
  const riders = arrangement.riders.map((rider) => ({ ...rider, id: rider.id ?? idOf.get(rider.key) ?? null }));
  return { ...known, state: { ...known.state, arrangement: { ...arrangement, riders } } };
}

function pointOf(
  { pixels, metadata }: Pick<DayState, 'pixels' | 'metadata'>,
  file: BikePoint['file'] | undefined,
  { frameId, subject }: BikeRef,
): readonly BikePoint[] {
  const measured = pixels.get(frameId);
  const bike = measured?.kind === 'measured' ? measured.subjects[subject] : undefined;
  if (file === undefined || bike === undefined) return [];
  const [left, top, width, height] = bike.bikeBox;
  const { widthPx, heightPx } = metadata.get(file) ?? {};
  const aspect = widthPx !== undefined && heightPx !== undefined ? { aspect: widthPx / heightPx } : {};
  return [{ file, x: left + width / 2, y: top + height / 2, box: bike.bikeBox, ...aspect }];
}
