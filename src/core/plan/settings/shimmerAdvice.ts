/** Advice on heat shimmer. No figure: how strong it is over tarmac cannot be worked out from a forecast, only how it grows. */
import { shimmerGrowth } from '../../numeric/shimmer.js';
import type { SpotView } from '../circuit/types.js';
import type { SpotLight } from '../light/types.js';
import type { SpotSettings } from './types.js';

/** Where people begin to speak of it: own convention. */
const LONG_WAY_M = 40;
const HIGH_SUN_DEG = 25;
const LOW_CAMERA_M = 3;

export const shimmerAdvice = ({ distanceM, spot }: SpotView, light: SpotLight): SpotSettings['shimmer'] => {
  const isHot = light.kind === 'sun' && !light.isSoft && light.sun.altitudeDeg >= HIGH_SUN_DEG;
  const isLong = distanceM >= LONG_WAY_M;
  if (!isLong) return { isToWatch: false, reasons: [`${Math.round(distanceM)} m of air is little.`] };
  const reasons = [
    `${Math.round(distanceM)} m of air: from half as far the shimmer on the bike is a ${ordinal(shimmerGrowth(distanceM / 2, distanceM))}.`,
    ...((spot.heightM ?? 0) < LOW_CAMERA_M
      ? ['The line of sight is low over the ground; from a bank it is less.']
      : []),
    isHot
      ? 'High sun on tarmac: go early or late, or wait for cloud. A smaller opening is no cure.'
      : 'Cloud or a lower sun: the ground is less hot.',
  ];
  return { isToWatch: isHot, reasons };
};

const ordinal = (times: number): string => (Math.round(times) === 3 ? 'third' : `${Math.round(times)}th part`);
