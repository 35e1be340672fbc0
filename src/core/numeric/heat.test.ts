import { describe, expect, it } from 'vitest';
import {
  celsiusOf,
  clearSkyUvIndex,
  estimateWbgt,
  fahrenheitOf,
  heatIndexC,
  heatIndexF,
  uvClassOf,
  wbgtInShade,
  wbgtInSun,
  wetBulbC,
} from './heat.js';

/** The equation, its adjustments and where it changes over: wpc.ncep.noaa.gov, "The Heat Index Equation"; values recomputed. */
const HEAT_INDEX = [
  [80, 40, 79.58],
  [84, 50, 85.13],
  [86, 90, 105.39],
  [90, 50, 94.6],
  [90, 60, 99.68],
  [94, 55, 106.34],
  [96, 65, 121.03],
  [98, 60, 122.57],
  [100, 40, 109.26],
  [100, 55, 123.64],
  [104, 40, 118.88],
  [110, 40, 135.66],
  [95, 10, 89.45],
  [75, 50, 74.55],
] as const;

describe('heat index', () => {
  it.each(HEAT_INDEX)('PL906: %d °F at %d %% feel like %d °F', (temperature, humidity, expected) => {
    expect(Math.abs(heatIndexF(temperature, humidity) - expected)).toBeLessThanOrEqual(0.006);
  });

  it('PL906: all rows were looked at, and degrees Celsius say the same', () => {
    expect(HEAT_INDEX).toHaveLength(14);
    expect(heatIndexC(celsiusOf(90), 60)).toBeCloseTo(celsiusOf(99.68), 2);
    expect(fahrenheitOf(35)).toBe(95);
  });

  it('PL906: damp air between 80 and 87 °F and very dry air are adjusted, and only these', () => {
    expect(heatIndexF(86, 90) - heatIndexF(86, 85)).toBeGreaterThan(0);
    // 95 °F at 13 % is just outside the dry adjustment, at 12.99 % it is next to nothing.
    expect(heatIndexF(95, 12.99)).toBeCloseTo(heatIndexF(95, 13), 1);
  });
});

describe('wet bulb globe temperature', () => {
  it('PL907: ISO 7243 in sun and in shade (Industrial Health 44, 2006: 25, 45 and 32 °C)', () => {
    expect(wbgtInSun({ naturalWetBulbC: 25, globeC: 45, airC: 32 })).toBeCloseTo(29.7, 9);
    expect(wbgtInShade({ naturalWetBulbC: 25, globeC: 45 })).toBeCloseTo(31, 9);
  });

  it('PL907: from temperature and humidity it is an estimate and says so (30 °C, 50 %: 29.3)', () => {
    const estimate = estimateWbgt(30, 50);
    expect(estimate.kind).toBe('estimate');
    expect(estimate.celsius).toBeCloseTo(29.3, 1);
    expect(estimate.supposes).toMatch(/sun.*wind/);
  });

  it('PL907: wet bulb of the 2011 paper’s example (20 °C, 50 %: 13.7)', () => {
    expect(wetBulbC(20, 50)).toBeCloseTo(13.7, 2);
  });
});

/** WHO, Global Solar UV Index: a practical guide (2002). */
describe('ultraviolet', () => {
  it.each([
    [0, 'low'],
    [2, 'low'],
    [3, 'moderate'],
    [5, 'moderate'],
    [6, 'high'],
    [7, 'high'],
    [8, 'very high'],
    [10, 'very high'],
    [11, 'extreme'],
    [14, 'extreme'],
  ] as const)('PL908: an index of %d is %s', (index, expected) => {
    expect(uvClassOf(index)).toBe(expected);
  });

  it('PL908: the clear-sky index of the abstract of the 2007 paper: 12.5 with the sun overhead and 300 DU, less by the powers it gives', () => {
    expect(clearSkyUvIndex(90)).toBeCloseTo(12.5, 9);
    expect(clearSkyUvIndex(30)).toBeCloseTo(12.5 * 0.5 ** 2.42, 9);
    expect(clearSkyUvIndex(90, 350)).toBeCloseTo(12.5 * (350 / 300) ** -1.23, 9);
    expect(clearSkyUvIndex(-1)).toBe(0);
  });
});
