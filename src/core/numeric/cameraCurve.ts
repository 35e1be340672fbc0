/**
 * How a camera bends light into a picture, and back: the plain curve of film. Drawn over the logarithm of exposure, what film and cameras
 * show leaves black slowly, rises evenly and comes to white slowly; here it is the logistic curve in stops, so that shown light over
 * what is missing to white grows as a power of the light. A stop less is then what the camera would have shown of half the light, which
 * halving its picture's values is not. One figure, no fit to any camera: responses differ by makers and settings, and what is judged
 * by it are differences between pictures of one camera. "Shown" is linear light of sRGB codes, 0–1.
 */

/** In its middle a camera draws light about a third steeper than it is: common practice, no source. */
const STEEPNESS = 4 / 3;

/** What is nearer to black or white than this says no more how dark or bright it was. */
const LEAST_SHOWN = 1 / 2048;
const MOST_SHOWN = 0.985;

/** Stops of light on the sensor, up to a constant. */
export function stopsOf(shown: number): number {
  const told = Math.min(MOST_SHOWN, Math.max(LEAST_SHOWN, shown));
  return Math.log2(told / (1 - told)) / STEEPNESS;
}

/** What is shown of so many stops. */
export const shownOf = (stops: number): number => {
  const odds = 2 ** (STEEPNESS * stops);
  return odds / (1 + odds);
};

/** What the camera had shown with its sensor's light times `gain`. Black stays black, and what was burnt stays white. */
export function reexposed(shown: number, gain: number): number {
  if (gain === 1 || shown <= 0 || shown >= 1) return shown;
  const power = gain ** STEEPNESS;
  return (shown * power) / (1 - shown + shown * power);
}
