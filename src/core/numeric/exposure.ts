/**
 * Exposure counted in stops.
 *
 * Sources: the additive system of ASA PH2.5-1960 (APEX), as in the Exif standard's annex: Av = 2·log2 N, Tv = −log2 t,
 * Sv = log2(ISO/3.125), Bv = 0 at one foot-lambert, Ev = Av + Tv = Bv + Sv. ISO 2720 with its usual constants for light
 * meters: K = 12.5 cd·s/(m²·ISO) of reflected, C = 250 lx·s/ISO of falling light on a flat receptor, so at ISO 100
 * L = 2^(EV−3) and E = 2.5·2^EV. The two do not quite meet: Bv of one foot-lambert is a K of 10.7, 0.22 stops from 12.5.
 * EV without more means at ISO 100 here.
 *
 * Marks on lenses and cameras are rounded: the exact third stops are 2^(i/6) for f-numbers, 2^(5−i/3) s for shutters and
 * 100·2^(i/3) for ISO, up to 0.14 stops from what is engraved. Sums are made on the exact values.
 */

/** One foot-lambert. */
const FOOT_LAMBERT_CD_M2 = 3.4262591;
/** The ISO at which Sv is 0. */
const SV_ZERO_ISO = 3.125;
const REFLECTED_K = 12.5;
const INCIDENT_C = 250;
const ISO_OF_EV = 100;

export const apertureValue = (fNumber: number): number => 2 * Math.log2(fNumber);
export const timeValue = (seconds: number): number => -Math.log2(seconds);
export const speedValue = (iso: number): number => Math.log2(iso / SV_ZERO_ISO);
export const brightnessValue = (cdPerM2: number): number => Math.log2(cdPerM2 / FOOT_LAMBERT_CD_M2);

/** Of an f-number and a shutter, whatever the ISO. */
export const exposureValue = (fNumber: number, seconds: number): number => apertureValue(fNumber) + timeValue(seconds);

export const luminanceOfEv = (ev: number): number => (2 ** ev * REFLECTED_K) / ISO_OF_EV;
export const evOfLuminance = (cdPerM2: number): number => Math.log2((cdPerM2 * ISO_OF_EV) / REFLECTED_K);
export const illuminanceOfEv = (ev: number): number => (2 ** ev * INCIDENT_C) / ISO_OF_EV;

/** The f-number that a shutter and an ISO ask for in light of an EV (at ISO 100). */
export const fNumberFor = (ev: number, seconds: number, iso: number): number =>
  Math.sqrt(seconds * 2 ** ev * (iso / ISO_OF_EV));
/** The ISO that an f-number and a shutter ask for. */
export const isoFor = (ev: number, seconds: number, fNumber: number): number =>
  (ISO_OF_EV * fNumber ** 2) / (seconds * 2 ** ev);

/** A setting as it is engraved, and what it is meant to be. */
export interface Mark {
  readonly nominal: string;
  readonly exact: number;
}

const marksOf = (nominal: string, exact: (i: number) => number): readonly Mark[] =>
  nominal.split(' ').map((text, i) => ({ nominal: text, exact: exact(i) }));

export const APERTURES = marksOf(
  '1 1.1 1.2 1.4 1.6 1.8 2 2.2 2.5 2.8 3.2 3.5 4 4.5 5 5.6 6.3 7.1 8 9 10 11 13 14 16 18 20 22 25 29 32',
  (i) => 2 ** (i / 6),
);

/** In seconds; longest first. */
export const SHUTTERS = marksOf(
  '30 25 20 15 13 10 8 6 5 4 3.2 2.5 2 1.6 1.3 1 0.8 0.6 0.5 0.4 0.3 1/4 1/5 1/6 1/8 1/10 1/13 1/15 1/20 1/25 1/30 1/40 ' +
    '1/50 1/60 1/80 1/100 1/125 1/160 1/200 1/250 1/320 1/400 1/500 1/640 1/800 1/1000 1/1250 1/1600 1/2000 1/2500 ' +
    '1/3200 1/4000 1/5000 1/6400 1/8000',
  (i) => 2 ** (5 - i / 3),
);

export const ISOS = marksOf(
  '100 125 160 200 250 320 400 500 640 800 1000 1250 1600 2000 2500 3200 4000 5000 6400 8000 10000 12800',
  (i) => 100 * 2 ** (i / 3),
);

/** The mark fewest stops away; beyond either end, that end. */
export const nearestMark = (marks: readonly Mark[], value: number): Mark =>
  marks.reduce((best, mark) => (stops(mark.exact, value) < stops(best.exact, value) ? mark : best));

const stops = (a: number, b: number): number => Math.abs(Math.log2(a / b));

/** Half stops and bodies without marks lie further from every mark than this. */
const SAME_MARK_STOPS = 0.06;

/** A shutter as a dial says it: a body writes 1/800 as 0.00125, as 10/8063 or as the exact third. What stands on no dial stays as it is. */
export function shutterName(seconds: number): string {
  const mark = nearestMark(SHUTTERS, seconds);
  const engraved = mark.nominal.startsWith('1/') ? 1 / Number(mark.nominal.slice(2)) : Number(mark.nominal);
  if (Math.min(stops(mark.exact, seconds), stops(engraved, seconds)) <= SAME_MARK_STOPS) return dialled(mark);
  return seconds < 0.4 ? `1/${Math.round(1 / seconds)}` : `${Number(seconds.toPrecision(2))} s`;
}

/** `1/800`, `2 s`. */
const dialled = ({ nominal }: Mark): string => (nominal.includes('/') ? nominal : `${nominal} s`);

/** The mark engraved so; a word that stands on no dial is a broken promise of the caller. */
export const markOf = (marks: readonly Mark[], nominal: string): Mark => {
  const mark = marks.find((each) => each.nominal === nominal);
  if (mark !== undefined) return mark;
  throw new RangeError(
    `Expected a mark of the series ${marks[0]?.nominal} … ${marks.at(-1)?.nominal}, got "${nominal}".`,
  );
};
