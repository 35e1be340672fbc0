/**
 * The light that a lens, haze or dirt lays over a subject, most of all against the sun (veiling glare: ISO 9358:1994). It adds
 * the same colour to all of it and turns a black bike brown in the evening. Something of every motorcycle with its rider is
 * next to black, so the darkest of each channel is mostly veil ("Single image haze removal using dark channel prior",
 * CVPR 2009, with one subject in place of small patches).
 */
import { LINEAR_OF_BYTE, type LinearRgb } from '../numeric/colour.js';
import type { SubjectMask } from './maskSubject.js';

/** This share of the subject is taken to be black but for the veil. */
const BLACK_SHARE = 0.05;
/** In linear light, where white is 1: no more is taken for a veil, or a subject without anything black would lose its colour. */
const MOST_VEIL = 0.1;
const LEAST_INSIDE = 0.5;

export function findVeil({ picture, inside }: SubjectMask): LinearRgb {
  const counts = [0, 1, 2].map(() => new Uint32Array(256)) as [Uint32Array, Uint32Array, Uint32Array];
  let pixels = 0;
  for (let index = 0, at = 0; index < inside.length; index += 1, at += 3) {
    if (inside[index]! < LEAST_INSIDE) continue;
    pixels += 1;
    for (let channel = 0; channel < 3; channel += 1) counts[channel]![picture.data[at + channel]!]! += 1;
  }
  const [red, green, blue] = counts;
  const veil = (channel: Uint32Array) => Math.min(MOST_VEIL, LINEAR_OF_BYTE[darkest(channel, BLACK_SHARE * pixels)]!);
  return [veil(red), veil(green), veil(blue)];
}

/** The code up to which more than `wanted` pixels lie. */
function darkest(counts: Uint32Array, wanted: number): number {
  let below = 0;
  for (let code = 0; code < counts.length; code += 1) {
    below += counts[code]!;
    if (below > wanted) return code;
  }
  return 0;
}
