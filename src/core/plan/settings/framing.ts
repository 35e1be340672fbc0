/** Which lens frames a bike, and how it crosses the view. */
import { BIKE_LENGTH_M } from '../../numeric/motion.js';
import { focalFor } from '../../numeric/optics.js';
import type { SpotView } from '../circuit/types.js';
import type { Framing, Sensor } from './types.js';

/** Bike and rider, rounded up: elbows out, head up. Own convention. */
const BIKE_WIDTH_M = 0.75;
const BIKE_HEIGHT_M = 1.35;
/** Room for the bike to move in; own convention. */
const USUAL_FILL = 0.6;
const RAD = Math.PI / 180;

/** Between the bike's way and the line of sight: 0 straight towards the lens, 90 across, 180 away. */
export const crossingDeg = ({ spot, headingDeg }: SpotView): number => {
  const turn = (((headingDeg - spot.viewAzimuthDeg) % 360) + 360) % 360;
  return Math.abs(180 - turn);
};

export const framingOf = (view: SpotView, sensor: Sensor, wanted: number = USUAL_FILL): Framing => {
  const seen = seenWidthM(view);
  const shape = sensor.widthMm / sensor.heightMm;
  const widthM = Math.max(seen, BIKE_HEIGHT_M * shape) / wanted;
  const distanceMm = workedDistanceM(view) * 1000;
  const focalMm = focalFor(sensor.widthMm, widthM * 1000, distanceMm);
  const crop = 36 / sensor.widthMm;
  const [shortest, longest] = view.spot.focalMm ?? [0, Number.POSITIVE_INFINITY];
  const usedFocalMm = Math.min(longest / crop, Math.max(shortest / crop, focalMm));
  const used = widthM * ((distanceMm - usedFocalMm) / usedFocalMm / ((distanceMm - focalMm) / focalMm));
  return {
    widthM: used,
    focalMm,
    usedFocalMm,
    fill: (wanted * widthM) / used,
    notes: [
      ...(workedDistanceM(view) === view.distanceM
        ? []
        : [
            `The spot is drawn ${view.distanceM.toFixed(1)} m from the bikes; all is worked out for ${NEAREST_M} m. Move the spot.`,
          ]),
      ...(usedFocalMm === focalMm
        ? []
        : [
            `${Math.round(focalMm)} mm would frame the bike at ${Math.round(wanted * 100)} %; the spot is said to take ${shortest}–${longest} mm on 36 × 24.`,
          ]),
    ],
  };
};

/** Nearer nobody may stand, and the sums lose their sense: own convention. */
const NEAREST_M = 2;

/** The distance that is worked with: a spot drawn on the track itself is taken off it, and that is said. */
export const workedDistanceM = ({ distanceM }: SpotView): number => Math.max(NEAREST_M, distanceM);

/** How wide bike and rider look from the spot. */
const seenWidthM = (view: SpotView): number => {
  const angle = crossingDeg(view) * RAD;
  return BIKE_LENGTH_M * Math.sin(angle) + BIKE_WIDTH_M * Math.abs(Math.cos(angle));
};
