/**
 * Heat shimmer: how it grows with the way that the light has through uneven air.
 *
 * Sources: D. L. Fried, "Optical resolution through a randomly inhomogeneous medium for very long and very short exposures",
 * J. Opt. Soc. Am. 56 (1966) 1372: r0 = [0.423·k²·∫Cn²·w dz]^(−3/5), w = 1 for a plane wave, (z/L)^(5/3) from a point at the far
 * end (3/8 for even air); long-exposure blur 0.98·λ/r0, and variance of the tilt on one axis 2.91·D^(−1/3)·∫Cn²·w dz.
 * Cn² over warm tarmac spans decades by hour, sun, wind and height, and no forecast gives it: these serve for proportions
 * (twice the way: three times the blur at the bike), never for a figure of a day. Metres, radians.
 */
const GREEN_M = 550e-9;
/** ∫ (z/L)^(5/3) dz / L. */
const POINT_SOURCE = 3 / 8;

/** Even air of one Cn², in m^(−2/3), over a level way. */
export interface Turbulence {
  readonly cn2: number;
  readonly lengthM: number;
}

type Wave = 'plane' | 'from-a-point';

const weighted = ({ cn2, lengthM }: Turbulence, wave: Wave): number =>
  cn2 * lengthM * (wave === 'plane' ? 1 : POINT_SOURCE);

export const friedLengthM = (air: Turbulence, wave: Wave, wavelengthM = GREEN_M): number => {
  const k = (2 * Math.PI) / wavelengthM;
  return (0.423 * k ** 2 * weighted(air, wave)) ** (-3 / 5);
};

export const longExposureBlurRad = (friedM: number, wavelengthM = GREEN_M): number => (0.98 * wavelengthM) / friedM;

export const tiltVarianceRad2 = (air: Turbulence, apertureM: number): number =>
  2.91 * apertureM ** (-1 / 3) * weighted(air, 'from-a-point');

/** How many times larger the blur is at the bike when the way is longer, in the same air. */
export const shimmerGrowth = (fromM: number, toM: number): number => {
  const atBike = (lengthM: number) =>
    lengthM * longExposureBlurRad(friedLengthM({ cn2: 1e-13, lengthM }, 'from-a-point'));
  return atBike(toM) / atBike(fromM);
};
