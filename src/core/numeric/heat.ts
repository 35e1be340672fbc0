/**
 * Heat and sun on somebody who stands outside: heat index, wet bulb globe temperature, wet bulb, ultraviolet index.
 *
 * Sources: the regression of the National Weather Service (technical attachment SR 90-23, 1990, and the
 * service's page "The Heat Index Equation", with both adjustments and the simple form below 80 °F); ISO 7243:2017 (WBGT);
 * the approximation of WBGT from temperature and humidity that the Australian Bureau of Meteorology published; "Wet-Bulb
 * Temperature from Relative Humidity and Air Temperature", Journal of Applied Meteorology and Climatology 50 (2011) 2267–2269;
 * "Analytic formula for the clear-sky UV index", Photochemistry and Photobiology 83 (2007) 1537–1538; WHO, "Global Solar UV
 * Index: a practical guide" (2002) for the classes.
 * The heat index is for shade and light wind (the service names 1.3 °F as the regression's error; full sun adds up to 15 °F).
 * The WBGT estimate supposes moderately strong sun and light wind and is never more than an estimate. The wet bulb holds at sea
 * level, 5–99 % and −20–50 °C, within 1 °C. The clear-sky index holds at sea level over dark ground in clean air.
 */
export const fahrenheitOf = (celsius: number): number => (celsius * 9) / 5 + 32;
export const celsiusOf = (fahrenheit: number): number => ((fahrenheit - 32) * 5) / 9;

/** In °F, from °F and per cent. */
export function heatIndexF(T: number, R: number): number {
  const simple = 0.5 * (T + 61 + (T - 68) * 1.2 + R * 0.094);
  // The service averages the simple form with the temperature to choose; below 80 °F the simple form itself is the answer.
  if ((simple + T) / 2 < 80) return simple;
  return regressionF(T, R) + adjustmentF(T, R);
}

const regressionF = (T: number, R: number): number =>
  -42.379 +
  2.04901523 * T +
  10.14333127 * R -
  0.22475541 * T * R -
  0.00683783 * T * T -
  0.05481717 * R * R +
  0.00122874 * T * T * R +
  0.00085282 * T * R * R -
  0.00000199 * T * T * R * R;

function adjustmentF(T: number, R: number): number {
  if (R < 13 && T >= 80 && T <= 112) return -((13 - R) / 4) * Math.sqrt((17 - Math.abs(T - 95)) / 17);
  if (R > 85 && T >= 80 && T <= 87) return ((R - 85) / 10) * ((87 - T) / 5);
  return 0;
}

/** In °C, from °C and per cent. */
export const heatIndexC = (temperatureC: number, humidityPercent: number): number =>
  celsiusOf(heatIndexF(fahrenheitOf(temperatureC), humidityPercent));

export interface GlobeReadings {
  readonly naturalWetBulbC: number;
  readonly globeC: number;
  readonly airC: number;
}

/** ISO 7243, in sunlight. */
export const wbgtInSun = ({ naturalWetBulbC, globeC, airC }: GlobeReadings): number =>
  0.7 * naturalWetBulbC + 0.2 * globeC + 0.1 * airC;

/** ISO 7243, indoors or without sun. */
export const wbgtInShade = ({ naturalWetBulbC, globeC }: Omit<GlobeReadings, 'airC'>): number =>
  0.7 * naturalWetBulbC + 0.3 * globeC;

/** Without a globe it is never measured; the type keeps the two apart. */
export interface WbgtEstimate {
  readonly kind: 'estimate';
  readonly celsius: number;
  readonly supposes: string;
}

export function estimateWbgt(temperatureC: number, humidityPercent: number): WbgtEstimate {
  const vapourHpa = (humidityPercent / 100) * 6.105 * Math.exp((17.27 * temperatureC) / (237.7 + temperatureC));
  const celsius = 0.567 * temperatureC + 0.393 * vapourHpa + 3.94;
  return { kind: 'estimate', celsius, supposes: 'moderately strong sun and light wind' };
}

/** Equation 1 of the 2011 paper. */
export const wetBulbC = (T: number, RH: number): number =>
  T * Math.atan(0.151977 * Math.sqrt(RH + 8.313659)) +
  Math.atan(T + RH) -
  Math.atan(RH - 1.676331) +
  0.00391838 * RH ** 1.5 * Math.atan(0.023101 * RH) -
  4.686035;

export type UvClass = 'low' | 'moderate' | 'high' | 'very high' | 'extreme';

/** The index is told in whole numbers; from 3 on one protects oneself. */
export function uvClassOf(index: number): UvClass {
  const whole = Math.round(index);
  if (whole >= 11) return 'extreme';
  if (whole >= 8) return 'very high';
  if (whole >= 6) return 'high';
  return whole >= 3 ? 'moderate' : 'low';
}

/** Dobson units, about the world's mean; the paper's own reference. */
const USUAL_OZONE_DU = 300;

/** What the index is at most under a clear sky, from how high the sun stands; 0 below the horizon. */
export function clearSkyUvIndex(sunAltitudeDeg: number, ozoneDu = USUAL_OZONE_DU): number {
  const cosZenith = Math.sin((sunAltitudeDeg * Math.PI) / 180);
  return cosZenith <= 0 ? 0 : 12.5 * cosZenith ** 2.42 * (ozoneDu / USUAL_OZONE_DU) ** -1.23;
}
