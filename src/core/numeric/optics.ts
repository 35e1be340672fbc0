/**
 * A lens as thin as the paper says: magnification, field of view, depth of field, diffraction.
 *
 * Sources: Newton's thin lens, m = f/(s−f); rectilinear field 2·atan(d/2f) at infinity; depth of field by hyperfocal
 * distance, H = f²/(N·c) + f, near = s(H−f)/(H+s−2f), far = s(H−f)/(H−s), as in the handbooks for film makers; Airy's disc,
 * diameter 2.44·λ·N to the first dark ring, and the cut-off 1/(λ·N) of an incoherent image.
 * Dropped: lenses have thickness, and many shorten their focal length near by; both are within a few per cent at 15 m or more.
 * c, the circle taken as sharp, is a convention (0.03 mm on 36 × 24): it is an argument everywhere. Lengths in millimetres unless named.
 */

/** Green, where eyes and sensors are keenest. */
const GREEN_MM = 550e-6;
/** First zero of J1, twice, by π: 2 · 3.8317/π. */
const AIRY_FACTOR = 2.44;

export const magnification = (focalMm: number, distanceMm: number): number => focalMm / (distanceMm - focalMm);

/** The focal length at which `widthMm` of the world fills `sensorMm`. */
export const focalFor = (sensorMm: number, widthMm: number, distanceMm: number): number => {
  const m = sensorMm / widthMm;
  return (m * distanceMm) / (1 + m);
};

export const fieldOfViewDeg = (sensorMm: number, focalMm: number): number =>
  (2 * Math.atan(sensorMm / (2 * focalMm)) * 180) / Math.PI;

export const hyperfocalMm = (focalMm: number, fNumber: number, circleMm: number): number =>
  focalMm ** 2 / (fNumber * circleMm) + focalMm;

export interface DepthOfField {
  readonly nearMm: number;
  /** Null: to infinity. */
  readonly farMm: number | null;
}

export const depthOfField = (focalMm: number, fNumber: number, distanceMm: number, circleMm: number): DepthOfField => {
  const H = hyperfocalMm(focalMm, fNumber, circleMm);
  const nearMm = (distanceMm * (H - focalMm)) / (H + distanceMm - 2 * focalMm);
  return { nearMm, farMm: distanceMm >= H ? null : (distanceMm * (H - focalMm)) / (H - distanceMm) };
};

export const airyDiameterMm = (fNumber: number, wavelengthMm = GREEN_MM): number =>
  AIRY_FACTOR * wavelengthMm * fNumber;
/** Line pairs per millimetre beyond which nothing is left. */
export const diffractionCutoff = (fNumber: number, wavelengthMm = GREEN_MM): number => 1 / (wavelengthMm * fNumber);
