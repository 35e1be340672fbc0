/**
 * What moves in the picture while the shutter is open.
 *
 * Sources: image speed is speed times scale, as aerial survey has it (ISPRS Commission I, "tolerable image motion": V in mph at
 * scale S gives 447,040·S·V µm/s); the rest is geometry of a camera that turns about its lens, derived here: a bike that
 * goes by at v, its way at θ to the line of sight and d away, is followed at ω = v·sin θ/d; what stands still behind it is drawn
 * out by f·ω·t, however far behind, and f·|ε|·ω·t of the bike itself if the hand is off by the share ε. Tyres: D = d + 2·S·aspect
 * (ETRTO, UN R75); leaned the tyre rolls on a smaller circle, quick on a larger: ±5 %.
 * Valid where d ≫ f and little turns during an exposure. SI units but for millimetres on the sensor; angles in degrees.
 */
const RAD = Math.PI / 180;
/** Length of a usual road-racing bike, nose to tail. */
export const BIKE_LENGTH_M = 2.05;

export const metresPerSecond = (kmh: number): number => kmh / 3.6;

/** Of a thing that crosses at `scale`, millimetres a second. */
export const imageSpeedMmPerS = (speedMs: number, scale: number): number => speedMs * 1000 * scale;

export interface Crossing {
  readonly speedMs: number;
  readonly distanceM: number;
  /** Between the bike's way and the line of sight: 90 square across, 0 straight towards or away. */
  readonly crossingDeg: number;
}

/** By a camera that stands still. */
export const crossingBlurMm = (
  { speedMs, distanceM, crossingDeg }: Crossing,
  focalMm: number,
  seconds: number,
): number =>
  imageSpeedMmPerS(speedMs, focalMm / (distanceM * 1000 - focalMm)) * Math.abs(Math.sin(crossingDeg * RAD)) * seconds;

/** How fast the camera turns to follow. */
export const panRateDegPerS = ({ speedMs, distanceM, crossingDeg }: Crossing): number =>
  (speedMs * Math.abs(Math.sin(crossingDeg * RAD))) / distanceM / RAD;

/** How far what stands still is drawn out while the camera turns. */
export const panStreakMm = (panDegPerS: number, focalMm: number, seconds: number): number =>
  focalMm * panDegPerS * RAD * seconds;

/** The same as a share of the bike's own length in the picture: distance, lens and angle fall out. */
export const streakShare = (speedMs: number, seconds: number, lengthM = BIKE_LENGTH_M): number =>
  (speedMs * seconds) / lengthM;

/** Shutter for a share. */
export const secondsForStreak = (share: number, speedMs: number, lengthM = BIKE_LENGTH_M): number =>
  (share * lengthM) / speedMs;

/** A point of the bike, from the one that the camera follows. */
export interface PointOfBike {
  /** Towards the nose. */
  readonly forwardM: number;
  /** Towards the camera's far side, square to the way. */
  readonly acrossM: number;
}

/**
 * Blur of one point of a bike that is followed without any error: nearer parts go by quicker, and a bike that comes grows.
 * Exact for the two ends of the exposure, seen from above; `crossingDeg` below 90 is coming, above 90 going.
 */
export const followedBlurMm = (
  { speedMs, distanceM, crossingDeg }: Crossing,
  { forwardM, acrossM }: PointOfBike,
  focalMm: number,
  seconds: number,
): number => {
  // The line of sight is +y. The way leads along h, towards the camera below 90°.
  const h = { x: Math.sin(crossingDeg * RAD), y: -Math.cos(crossingDeg * RAD) };
  const bearing = (forward: number, across: number): number =>
    Math.atan2(forward * h.x - across * h.y, distanceM + forward * h.y + across * h.x);
  const apart = (travelledM: number): number =>
    Math.tan(bearing(forwardM + travelledM, acrossM) - bearing(travelledM, 0));
  const half = (speedMs * seconds) / 2;
  return focalMm * Math.abs(apart(half) - apart(-half));
};

/** Speed at which a bend of a radius is taken at a lean. */
export const speedOfLeanMs = (radiusM: number, leanDeg: number): number =>
  Math.sqrt(9.81 * radiusM * Math.tan(leanDeg * RAD));

export interface Tyre {
  readonly widthMm: number;
  /** Height of the side by its width, in hundredths. */
  readonly aspect: number;
  readonly rimInches: number;
}

/** The commonest pair of road-racing tyres of today. */
export const FRONT_TYRE: Tyre = { widthMm: 120, aspect: 70, rimInches: 17 };

export const wheelDiameterMm = ({ widthMm, aspect, rimInches }: Tyre): number =>
  25.4 * rimInches + 2 * widthMm * (aspect / 100);

export const wheelTurnDeg = (tyre: Tyre, speedMs: number, seconds: number): number =>
  (360 * speedMs * seconds * 1000) / (Math.PI * wheelDiameterMm(tyre));
