/** Who and what is in a frame, as far as it tells track from paddock. */
import type { FrameMeasured, Subject } from '../../measure/types.js';
import type { Seen } from './types.js';

/** Share of the picture's height from which a person is near: at the track people on foot are marshals far off. */
const NEAR_FROM = 0.3;
/** A bike as high in the picture was gone up to. */
const CLOSE_FROM = 0.3;
/** Bikes of a row stand about as far from the camera: the smallest has at least this share of the largest one's area. */
const ROW_SHARE = 0.3;

export function seenIn(measured: FrameMeasured | null): Seen {
  const subjects = measured?.subjects ?? [];
  const bikes = subjects.filter(({ what }) => what === 'motorcycle');
  const people = subjects.filter(({ what }) => what === 'person');
  const largest = Math.max(0, ...bikes.map(areaOf));
  const row = bikes.filter((bike) => areaOf(bike) >= ROW_SHARE * largest);
  const isRidden = bikes.some(({ riderBox }) => riderBox !== undefined);
  return {
    people: people.length,
    isNear: people.some(({ box }) => box[3] >= NEAR_FROM),
    bikes: bikes.length,
    isRidden,
    isRow: !isRidden && row.length >= 2,
    isLeft: !isRidden && people.length === 0 && bikes.some(({ box }) => box[3] >= CLOSE_FROM),
  };
}

const areaOf = ({ box }: Subject): number => box[2] * box[3];
