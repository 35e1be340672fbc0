/** All that is to be set at a spot for a group. */

import { APERTURES, markOf, SHUTTERS } from '../../numeric/exposure.js';
import { crossingBlurMm, panRateDegPerS } from '../../numeric/motion.js';
import { depthOfField } from '../../numeric/optics.js';
import { exposureAdvice } from './exposureAdvice.js';
import { framingOf, workedDistanceM } from './framing.js';
import { crossingOf, ladderOf } from './ladder.js';
import { shimmerAdvice } from './shimmerAdvice.js';
import { msOf, speedsAt } from './speeds.js';
import type { Range, Sensor, SettingsInput, SpotSettings } from './types.js';

/** Where nobody said which body: full frame, 24 megapixels. */
export const USUAL_SENSOR: Sensor = { widthMm: 36, heightMm: 24, widthPx: 6000, baseIso: 100 };
/** Circle taken as sharp, as share of the sensor's width: 0.03 mm on 36, the old convention. */
const CIRCLE_BY_WIDTH = 0.03 / 36;

export const settingsFor = ({ view, group, speed, light, sensor, fill, tone }: SettingsInput): SpotSettings => {
  const [used, ...otherSpeeds] = speedsAt(view, speed);
  const ms = msOf(used);
  const framing = framingOf(view, sensor, fill);
  const ladder = ladderOf(view, ms, framing, sensor);
  const exposure = exposureAdvice(light, ladder, sensor, tone);
  const rangeOf = (effect: (speedMs: number) => number): Range | null =>
    ms === null ? null : [effect(ms[0]), effect(ms[1])];
  return {
    spot: view.spot.id,
    group,
    side: view.sideSeen,
    speed: used,
    otherSpeeds,
    framing,
    panDegPerS: rangeOf((speedMs) => panRateDegPerS(crossingOf(view, speedMs))),
    depthOfFieldM:
      exposure.atStart === null
        ? null
        : depthAt(exposure.atStart.fNumber, framing.usedFocalMm, workedDistanceM(view), sensor),
    unfollowedBlurPx: rangeOf(
      (speedMs) =>
        (crossingBlurMm(crossingOf(view, speedMs), framing.usedFocalMm, markOf(SHUTTERS, ladder.start).exact) *
          sensor.widthPx) /
        sensor.widthMm,
    ),
    ladder,
    exposure,
    shimmer: shimmerAdvice(view, light),
  };
};

const depthAt = (fNumber: string, focalMm: number, distanceM: number, sensor: Sensor) => {
  const circle = CIRCLE_BY_WIDTH * sensor.widthMm;
  const { nearMm, farMm } = depthOfField(focalMm, markOf(APERTURES, fNumber).exact, distanceM * 1000, circle);
  return { near: nearMm / 1000, far: farMm === null ? null : farMm / 1000 };
};
