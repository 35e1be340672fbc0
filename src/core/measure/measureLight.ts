/**
 * The light a picture was taken in, as the finish needs it to make pictures alike: what the ground about a bike shows, which is tarmac
 * and so about grey, and what bike and rider throw back. Of the ground the commonest brightness counts, so that lines, kerbs and the
 * bike's shadow do not, and the tint of its nearly grey part; of the bike and its rider all of it. In stops of light on the sensor.
 */
import { stopsOf } from '../numeric/cameraCurve.js';
import { LINEAR_OF_BYTE } from '../numeric/colour.js';
import type { RgbImage } from './images.js';
import type { SubjectMask } from './maskSubject.js';
import type { Box, LightSeen, LightStops } from './types.js';

/** In widths and heights of the subject: ground is looked at below its wheels and beside them. */
const BELOW = 0.3;
const ABOVE_FOOT = 0.12;
const BESIDE = 0.35;
/** Further from its green than this, in stops of red or blue, nothing is grey in daylight. */
const MOST_TINT = 0.6;
/** Half-widths about the present estimate, round by round. */
const TINT_WIDTHS = [0.6, 0.4, 0.25, 0.25] as const;
const LEVEL_WIDTHS = [1, 0.8, 0.6, 0.6] as const;
/** Tarmac is the darker of what is grey beside a track: lines and kerbs are paler. */
const STARTING_PART = 0.35;
const DARKEST_CODE = 6;
const BRIGHTEST_CODE = 250;
/** Fewer pixels of ground, or a smaller part of it that is grey, say nothing. */
const LEAST_PIXELS = 150;
const LEAST_GREY_SHARE = 0.15;
/** The rim of the mask is as much ground as subject. */
const LEAST_INSIDE = 0.9;
const LEAST_SUBJECT_PIXELS = 50;

const STOPS_OF_BYTE: Float64Array = LINEAR_OF_BYTE.map(stopsOf);

/** Null where the mask holds next to nothing. */
export function measureLight(image: RgbImage, box: Box, mask: SubjectMask): LightSeen | null {
  const subject = subjectLight(mask);
  if (subject === null) return null;
  const ground = groundLight(image, box);
  return { subject, ...(ground && { ground }) };
}

/** Of what is neither black nor burnt: the mean of all light, and of each channel's stops over green. */
function subjectLight({ picture: { data }, inside }: SubjectMask): LightStops | null {
  let [light, red, blue, pixels] = [0, 0, 0, 0];
  for (let index = 0; index < inside.length; index += 1) {
    if (inside[index]! < LEAST_INSIDE) continue;
    const [r, g, b] = stopsAt(data, 3 * index);
    light += 2 ** stopsOf(luminanceAt(data, 3 * index));
    red += r - g;
    blue += b - g;
    pixels += 1;
  }
  if (pixels < LEAST_SUBJECT_PIXELS) return null;
  return { stops: rounded(Math.log2(light / pixels)), red: rounded(red / pixels), blue: rounded(blue / pixels) };
}

export function groundLight(image: RgbImage, box: Box): LightStops | null {
  const { red, blue, stops, pixels } = groundPixels(image, box);
  if (pixels < LEAST_PIXELS) return null;
  const [ofRed, ofBlue] = greyTint(red, blue);
  const grey = stops.filter((_, index) => Math.hypot(red[index]! - ofRed, blue[index]! - ofBlue) < TINT_WIDTHS.at(-1)!);
  if (grey.length < LEAST_GREY_SHARE * pixels) return null;
  return { stops: rounded(commonest(grey)), red: rounded(ofRed), blue: rounded(ofBlue) };
}

/** Stops of luminance, and of red and blue over green, of every pixel of ground that is neither black nor burnt. */
function groundPixels({ data, width, height }: RgbImage, [left, top, across, down]: Box) {
  const [red, blue, stops]: [number[], number[], number[]] = [[], [], []];
  const foot = (top + down) * height;
  const fromY = Math.max(0, Math.floor(foot - ABOVE_FOOT * down * height));
  const toY = Math.min(height, Math.ceil(foot + BELOW * down * height));
  const fromX = Math.max(0, Math.floor((left - BESIDE * across) * width));
  const toX = Math.min(width, Math.ceil((left + (1 + BESIDE) * across) * width));
  const [bikeFrom, bikeTo] = [left * width, (left + across) * width];
  for (let y = fromY; y < toY; y += 1)
    for (let x = fromX; x < toX; x += 1) {
      if (y < foot && x >= bikeFrom && x < bikeTo) continue;
      const at = 3 * (y * width + x);
      const codes = [data[at]!, data[at + 1]!, data[at + 2]!];
      if (Math.max(...codes) > BRIGHTEST_CODE || Math.min(...codes) < DARKEST_CODE) continue;
      const [r, g, b] = stopsAt(data, at);
      red.push(r - g);
      blue.push(b - g);
      stops.push(stopsOf(luminanceAt(data, at)));
    }
  return { red, blue, stops, pixels: stops.length };
}

/** Mean-shift from "no tint" towards the middle of what is nearly grey. */
function greyTint(red: readonly number[], blue: readonly number[]): readonly [number, number] {
  let [ofRed, ofBlue] = [0, 0];
  for (const width of TINT_WIDTHS) {
    let [weight, reds, blues] = [0, 0, 0];
    for (let index = 0; index < red.length; index += 1) {
      const each = 1 - ((red[index]! - ofRed) ** 2 + (blue[index]! - ofBlue) ** 2) / width ** 2;
      if (each <= 0) continue;
      weight += each;
      reds += each * red[index]!;
      blues += each * blue[index]!;
    }
    if (weight === 0) break;
    [ofRed, ofBlue] = [clamped(reds / weight), clamped(blues / weight)];
  }
  return [ofRed, ofBlue];
}

/** Mean-shift from the darker third to where most values lie. */
function commonest(values: readonly number[]): number {
  let at = values.toSorted((a, b) => a - b)[Math.floor(STARTING_PART * values.length)]!;
  for (const width of LEVEL_WIDTHS) {
    let [weight, sum] = [0, 0];
    for (const value of values) {
      const each = 1 - ((value - at) / width) ** 2;
      if (each <= 0) continue;
      weight += each;
      sum += each * value;
    }
    at = sum / weight;
  }
  return at;
}

const stopsAt = (data: Uint8Array, at: number): readonly [number, number, number] => [
  STOPS_OF_BYTE[data[at]!]!,
  STOPS_OF_BYTE[data[at + 1]!]!,
  STOPS_OF_BYTE[data[at + 2]!]!,
];

const luminanceAt = (data: Uint8Array, at: number): number =>
  0.2126 * LINEAR_OF_BYTE[data[at]!]! +
  0.7152 * LINEAR_OF_BYTE[data[at + 1]!]! +
  0.0722 * LINEAR_OF_BYTE[data[at + 2]!]!;

const clamped = (value: number): number => Math.min(MOST_TINT, Math.max(-MOST_TINT, value));
const rounded = (value: number): number => Math.round(1000 * value) / 1000;
