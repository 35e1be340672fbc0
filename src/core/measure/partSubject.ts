/**
 * Which part of a subject is worn (leathers, gloves, boots, helmet) and which is the machine, where no network has said:
 * by place in the person's box, and by colour, since what shows above the bike is worn and what shows below the rider is
 * not. Where rider and machine wear the same colours only the place is left.
 */
import type { SubjectBoxes } from './assembleSubjects.js';
import type { RgbImage } from './images.js';
import { colourBins, divideByColour, type SubjectMask } from './maskSubject.js';
import type { Box } from './types.js';

/** On rendered riders nine tenths of a person's box are worn at its top, and hardly any of it at its foot. */
const WORN_AT_TOP = 0.9;
const WORN_AT_FOOT = 0.03;
/** Arms and feet stick out of the box now and then. */
const WORN_OUTSIDE = 0.06;
const WORN_ABOVE_BIKE = 0.95;
/** At the box's sides there is less rider than in its middle, by this share. */
const LESS_AT_SIDES = 0.25;
/** Liveries and leathers often match, so colour says less here than between subject and surroundings. */
const BY_COLOUR = { rounds: 2, colourWeight: 1, radius: 1 } as const;

/** Chance 0–1 of each pixel of the mask's cut-out to be worn, if it belongs to the subject at all. 0 where nobody rides. */
export function findWorn(mask: SubjectMask, image: RgbImage, { riderBox, bikeBox }: SubjectBoxes): Float32Array {
  const { picture, rect, inside } = mask;
  const { width, height } = picture;
  const prior = new Float32Array(width * height);
  if (!riderBox) return prior;
  for (let y = 0, index = 0; y < height; y += 1) {
    const atY = (rect.top + ((y + 0.5) * (rect.bottom - rect.top)) / height) / image.height;
    for (let x = 0; x < width; x += 1, index += 1) {
      const atX = (rect.left + ((x + 0.5) * (rect.right - rect.left)) / width) / image.width;
      prior[index] = wornAt(riderBox, bikeBox, atX, atY);
    }
  }
  return divideByColour(colourBins(picture), prior, picture, BY_COLOUR, inside);
}

function wornAt(rider: Box, bike: Box, x: number, y: number): number {
  const u = (x - rider[0]) / rider[2];
  const v = (y - rider[1]) / rider[3];
  if (u < 0 || u > 1 || v < 0 || v > 1) return WORN_OUTSIDE;
  if (y < bike[1] || x < bike[0] || x > bike[0] + bike[2]) return WORN_ABOVE_BIKE;
  const fromMiddle = 2 * Math.abs(u - 0.5);
  const share = (WORN_AT_TOP - v) * (1 - LESS_AT_SIDES * fromMiddle * fromMiddle);
  return Math.max(WORN_AT_FOOT, share);
}
