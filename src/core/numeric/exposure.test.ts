import { describe, expect, it } from 'vitest';
import {
  APERTURES,
  apertureValue,
  brightnessValue,
  evOfLuminance,
  exposureValue,
  fNumberFor,
  ISOS,
  illuminanceOfEv,
  isoFor,
  luminanceOfEv,
  markOf,
  nearestMark,
  SHUTTERS,
  shutterName,
  speedValue,
  timeValue,
} from './exposure.js';

/** Whole APEX numbers and the marks they stand for: ASA PH2.5-1960 and ANSI PH3.49, as tabled in "APEX (photography)". */
const APERTURE_TABLE = ['1', '1.4', '2', '2.8', '4', '5.6', '8', '11', '16', '22', '32'];
const TIME_TABLE = ['1', '0.5', '1/4', '1/8', '1/15', '1/30', '1/60', '1/125', '1/250', '1/500', '1/1000', '1/2000'];

describe('stops', () => {
  it('PL320: gives the whole numbers of the additive system at its marks', () => {
    APERTURE_TABLE.forEach((mark, value) => {
      expect(apertureValue(markOf(APERTURES, mark).exact), mark).toBeCloseTo(value, 9);
      expect(Math.abs(apertureValue(Number(mark)) - value), mark).toBeLessThan(0.1);
    });
    TIME_TABLE.forEach((mark, value) => {
      expect(timeValue(markOf(SHUTTERS, mark).exact), mark).toBeCloseTo(value, 9);
    });
    expect([3.125, 100, 400].map(speedValue)).toEqual([0, 5, 7]);
    expect(brightnessValue(3.4262591)).toBe(0);
    expect(brightnessValue(3.4262591 * 8)).toBeCloseTo(3, 12);
  });

  it('PL320: f/1 at a second is EV 0, f/16 at 1/128 s is 15; engraved marks stand a little beside', () => {
    expect(exposureValue(1, 1)).toBe(0);
    expect(exposureValue(16, 1 / 128)).toBe(15);
    // Worked values, to 4 places.
    expect(exposureValue(16, 1 / 125)).toBeCloseTo(14.9658, 4);
    expect(exposureValue(8, 1 / 500)).toBeCloseTo(14.9658, 4);
    expect(exposureValue(16, 1 / 100)).toBeCloseTo(14.6439, 4);
  });

  it('PL321: ISO 2720: EV 15 is 4,096 cd/m² and 81,920 lx', () => {
    expect(luminanceOfEv(15)).toBeCloseTo(4096, 9);
    expect(illuminanceOfEv(15)).toBeCloseTo(81920, 9);
    expect(evOfLuminance(4096)).toBeCloseTo(15, 12);
  });

  it('PL321: f/16 at 1/ISO is a sunlit scene of 3,200 cd/m² (ANSI, exposure meters), EV 14.644', () => {
    expect(16 ** 2 * 12.5).toBe(3200);
    expect(luminanceOfEv(exposureValue(16, 1 / 100))).toBeCloseTo(3200, 6);
    expect(evOfLuminance(3200)).toBeCloseTo(14.644, 3);
    expect(fNumberFor(evOfLuminance(3200), 1 / 400, 400)).toBeCloseTo(16, 9);
    expect(isoFor(evOfLuminance(3200), 1 / 400, 16)).toBeCloseTo(400, 9);
  });

  it('PL321: the additive system and ISO 2720 part by what their constants say', () => {
    // Bv + Sv = log2(L·ISO/10.7), EV = log2(L·ISO/12.5).
    const apex = brightnessValue(3200) + speedValue(100);
    expect(apex - evOfLuminance(3200)).toBeCloseTo(Math.log2(12.5 / (3.4262591 * 3.125)), 9);
  });
});

/** Third stops: `mark(exact)` to the places printed; shutters from 1/15 on as 1/mark(1/exact). */
const tableOf = (text: string) =>
  [...text.matchAll(/(\S+)\(([\d.]+)\)/g)].map(([, mark = '', exact]) => ({ mark, exact: Number(exact) }));
const N_EXACT = tableOf(
  '1.1(1.1225) 1.2(1.2599) 1.4(1.4142) 1.6(1.5874) 1.8(1.7818) 2.2(2.2449) 2.5(2.5198) 2.8(2.8284) 3.2(3.1748) 3.5(3.5636) ' +
    '4.5(4.4898) 5(5.0397) 5.6(5.6569) 6.3(6.3496) 7.1(7.1272) 9(8.9797) 10(10.0794) 11(11.3137) 13(12.6992) 14(14.2544) ' +
    '18(17.9594) 20(20.1587) 22(22.6274) 25(25.3984) 29(28.5088)',
);
const LONG_EXACT = tableOf('30(32) 25(25.40) 20(20.16) 15(16) 13(12.70) 10(10.08) 8(8) 6(6.35) 5(5.04) 4(4) 2(2) 1(1)');
const SHORT_EXACT = tableOf(
  '15(16) 30(32) 60(64) 80(80.63) 100(101.6) 125(128) 160(161.3) 200(203.2) 250(256) 320(322.5) 400(406.4) 500(512) ' +
    '640(645.1) 800(812.7) 1000(1024) 1250(1290.2) 1600(1625.5) 2000(2048) 4000(4096) 8000(8192)',
);

const nominalOf = (text: string): number => (text.startsWith('1/') ? 1 / Number(text.slice(2)) : Number(text));

describe('marks of third stops', () => {
  it('PL322: are the customary ones, with their exact values', () => {
    expect(APERTURES).toHaveLength(31);
    expect(SHUTTERS).toHaveLength(55);
    expect(ISOS).toHaveLength(22);
    expect([N_EXACT.length, LONG_EXACT.length, SHORT_EXACT.length]).toEqual([25, 12, 20]);
    for (const { mark, exact } of N_EXACT) expect(markOf(APERTURES, mark).exact, mark).toBeCloseTo(exact, 4);
    for (const { mark, exact } of LONG_EXACT)
      expect(Math.abs(markOf(SHUTTERS, mark).exact / exact - 1), mark).toBeLessThan(0.001);
    for (const { mark, exact } of SHORT_EXACT)
      expect(Math.abs(markOf(SHUTTERS, `1/${mark}`).exact * exact - 1), mark).toBeLessThan(0.001);
    expect(markOf(ISOS, '12800').exact).toBeCloseTo(12800, 6);
  });

  it('PL322: stand no further from the exact values than is published', () => {
    const worst = (marks: typeof ISOS, stopsOf: (ratio: number) => number, skip: readonly string[] = []) =>
      Math.max(
        ...marks
          .filter(({ nominal }) => !skip.includes(nominal))
          .map(({ nominal, exact }) => Math.abs(stopsOf(nominalOf(nominal) / exact))),
      );
    expect(worst(APERTURES, (r) => 2 * Math.log2(r), ['1.2'])).toBeCloseTo(0.081, 3);
    expect(2 * Math.log2(1.2 / markOf(APERTURES, '1.2').exact)).toBeCloseTo(-0.141, 3);
    expect(worst(SHUTTERS, Math.log2)).toBeCloseTo(0.093, 3);
    expect(worst(ISOS, Math.log2)).toBeCloseTo(0.023, 3);
  });

  it('PL322: the nearest is counted in stops, and beyond the ends it is the end', () => {
    for (const marks of [APERTURES, SHUTTERS, ISOS])
      for (const mark of marks) {
        expect(nearestMark(marks, mark.exact)).toBe(mark);
        expect(nearestMark(marks, mark.exact * 1.05)).toBe(mark);
      }
    expect(nearestMark(ISOS, 25).nominal).toBe('100');
    expect(nearestMark(SHUTTERS, 1 / 90_000).nominal).toBe('1/8000');
  });

  it('PL322: a mark that is on no dial is refused in words', () => {
    expect(() => markOf(SHUTTERS, '1/333')).toThrow('Expected a mark of the series 30 … 1/8000, got "1/333".');
  });

  it('PL322: a shutter is named as the dial names it, however a body writes it; what no dial has stays', () => {
    const written: readonly (readonly [number, string])[] = [
      [0.00125, '1/800'],
      [10 / 8063, '1/800'],
      [1 / 812.75, '1/800'],
      [10 / 3205, '1/320'],
      [0.003125, '1/320'],
      [1 / 64, '1/60'],
      [1 / 60, '1/60'],
      [0.3, '0.3 s'],
      [2, '2 s'],
      // Half stops.
      [1 / 750, '1/750'],
      [1 / 350, '1/350'],
      [1 / 45, '1/45'],
    ];
    expect(written.map(([seconds]) => shutterName(seconds))).toEqual(written.map(([, name]) => name));
  });
});
