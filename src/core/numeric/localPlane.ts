/**
 * A plane in metres touching the WGS 84 ellipsoid at one place: x to the east, y to the north.
 *
 * Source: "Map Projections: A Working Manual", USGS Professional Paper 1395 (1987), transverse Mercator on the ellipsoid,
 * equations 4-18 and 4-20 (radii of curvature) and the leading terms of 8-9, 8-10 and 8-15, with scale 1 on the middle
 * meridian. Dropped: terms of the third power of the longitude and above (4 mm at 10 km), and the series for the meridian's
 * length, for which the radius half-way stands. Expected error within 10 km of the middle: 1 cm in a distance, 1e-6 of it. Valid within 50 km,
 * latitudes from -80° to 80°. Constants of WGS 84: EPSG ellipsoid 7030.
 */
const a = 6_378_137;
const f = 1 / 298.257223563;
const eSquared = f * (2 - f);
const rad = Math.PI / 180;

export interface Point {
  /** Metres to the east. */
  readonly x: number;
  /** Metres to the north. */
  readonly y: number;
}

export interface LocalPlane {
  toPoint(longitudeDeg: number, latitudeDeg: number): Point;
  toPlace(point: Point): { readonly longitudeDeg: number; readonly latitudeDeg: number };
}

/** Radii of curvature at a latitude, metres: of the meridian, and across it. */
export function radiiOfCurvature(latitudeDeg: number): { readonly meridianM: number; readonly acrossM: number } {
  const w = 1 - eSquared * Math.sin(latitudeDeg * rad) ** 2;
  return { meridianM: (a * (1 - eSquared)) / w ** 1.5, acrossM: a / Math.sqrt(w) }; // 4-18, 4-20
}

/** From -180 to 180, so that a plane may lie across the date line. */
const turned = (deg: number): number => deg - 360 * Math.round(deg / 360);

export function localPlane(middleLongitudeDeg: number, middleLatitudeDeg: number): LocalPlane {
  const northOf = (latitudeDeg: number): number =>
    radiiOfCurvature((latitudeDeg + middleLatitudeDeg) / 2).meridianM * (latitudeDeg - middleLatitudeDeg) * rad;

  const toPoint = (longitudeDeg: number, latitudeDeg: number): Point => {
    const phi = latitudeDeg * rad;
    const N = radiiOfCurvature(latitudeDeg).acrossM;
    const A = Math.cos(phi) * turned(longitudeDeg - middleLongitudeDeg) * rad; // 8-15
    return {
      x: N * A, // 8-9
      y: northOf(latitudeDeg) + (N * Math.tan(phi) * A ** 2) / 2, // 8-10
    };
  };

  /** By steps of Newton with the radii at the guess: each takes the error down by a thousand and more. */
  const toPlace = (point: Point): { longitudeDeg: number; latitudeDeg: number } => {
    let longitudeDeg = middleLongitudeDeg;
    let latitudeDeg = middleLatitudeDeg;
    for (let step = 0; step < 6; step++) {
      const at = toPoint(longitudeDeg, latitudeDeg);
      const { meridianM, acrossM } = radiiOfCurvature(latitudeDeg);
      longitudeDeg += (point.x - at.x) / (acrossM * Math.cos(latitudeDeg * rad)) / rad;
      latitudeDeg += (point.y - at.y) / meridianM / rad;
    }
    return { longitudeDeg: turned(longitudeDeg), latitudeDeg };
  };

  return { toPoint, toPlace };
}
