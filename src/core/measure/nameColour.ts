/**
 * From a Lab colour to the word a rider would say. The regions are ours, in CIE LCh (D65) under neutral light, for the
 * eleven basic terms (B. Berlin, P. Kay, "Basic Color Terms", 1969) and lime, teal, navy and silver, which riders say
 * besides. The limits of red to orange, orange to yellow, lime to green and teal to blue part best what two published
 * lists call so, each weighing the same (`tools/colours/fitLimits.ts`): the ISCC-NBS centroids (NBS Circular 553, 1955),
 * which name surfaces, and the xkcd colour survey (2010), whose people looked at screens. The tests compare the names
 * with both.
 */
import { type Lab, lchOfLab } from '../numeric/colour.js';
import type { ColourName, FluorescentHue, PlainColour } from './types.js';

/** Below this lightness everything looks black. */
const BLACK_BELOW = 8;
/** Dark and hardly coloured is black too. */
const BLACKISH_BELOW = 30;
/**
 * Least chroma of a dark hue over lightness + 16: that ratio stays the same when a paint falls into shade (CIE 15: a*, b*
 * and L* + 16 all go with the cube root of light).
 */
const DARK_SATURATION = 0.42;
const GREY_BELOW = 63;
const SILVER_BELOW = 82;

/** Least chroma of a colour with a hue name: pale tints of white paint and the sky's shine on black stay unnamed. */
function leastChroma(lightness: number, hueDeg: number): number {
  // Blue light from the sky lies on every shaded or shining surface.
  const skyward = hueDeg > 205 && hueDeg < 300 ? 4 : 0;
  if (lightness < BLACKISH_BELOW) return DARK_SATURATION * (lightness + 16) + skyward / 2;
  return (lightness > 80 ? 12 : 13) + skyward;
}

export function nameColour(lab: Lab): PlainColour {
  const [lightness, chroma, hueDeg] = lchOfLab(lab);
  if (lightness < BLACK_BELOW && chroma < 28) return 'black';
  if (chroma < leastChroma(lightness, hueDeg)) return nameNeutral(lightness);
  return nameHue(lightness, chroma, hueDeg);
}

function nameNeutral(lightness: number): PlainColour {
  if (lightness < BLACKISH_BELOW) return 'black';
  if (lightness < GREY_BELOW) return 'grey';
  return lightness < SILVER_BELOW ? 'silver' : 'white';
}

const isNavy = (lightness: number, chroma: number, hueDeg: number): boolean =>
  lightness < 33 && chroma >= 16 && chroma < 58 && hueDeg > 255 && hueDeg < 307;

function nameHue(lightness: number, chroma: number, hueDeg: number): PlainColour {
  if (hueDeg < 14 || hueDeg >= 348) return lightness > 43 ? 'pink' : 'red';
  if (hueDeg < orangeFrom(lightness, chroma)) return nameReddish(lightness, chroma, hueDeg);
  if (hueDeg < 73) return isBrown(lightness, chroma, 58) ? 'brown' : 'orange';
  if (hueDeg < 100) return isBrown(lightness, chroma, 48) ? 'brown' : 'yellow';
  if (hueDeg < 131) return nameYellowGreen(lightness, chroma, hueDeg);
  if (hueDeg < 172) return 'green';
  if (hueDeg < 207) return isSkyBlue(lightness, chroma, hueDeg) ? 'blue' : 'teal';
  if (hueDeg < (chroma > 60 ? 310 : 299)) return isNavy(lightness, chroma, hueDeg) ? 'navy' : 'blue';
  return hueDeg < 338 || lightness < 40 ? 'purple' : 'pink';
}

const isSkyBlue = (lightness: number, chroma: number, hueDeg: number): boolean =>
  lightness > 78 && chroma < 22 && hueDeg > 190;

/** Hue at which red ends: a light red is orange sooner than a dark one, which is brick or rust. */
function orangeFrom(lightness: number, chroma: number): number {
  return Math.min(48, Math.max(34, 40 + 0.23 * (chroma - 70) - 0.45 * (lightness - 50)));
}

function nameReddish(lightness: number, chroma: number, hueDeg: number): PlainColour {
  if (lightness > 57 && chroma < 52 && hueDeg < 38) return 'pink';
  return chroma < 30 && hueDeg > 22 ? 'brown' : 'red';
}

const isBrown = (lightness: number, chroma: number, brightFrom: number): boolean =>
  lightness < 75 && (chroma < 38 || (lightness < brightFrom && chroma < 62));

function nameYellowGreen(lightness: number, chroma: number, hueDeg: number): PlainColour {
  if (chroma > 55 && lightness > 60) return hueDeg < 109 ? 'yellow' : hueDeg < 129 || lightness > 82 ? 'lime' : 'green';
  return hueDeg < 108 && lightness > 70 ? 'yellow' : 'green';
}

/**
 * Colours an eye may take for each other, in a line: each is the neighbour of the one before and the one after, so none
 * has more than two, and black and white lie far apart. Brown stands alone.
 */
const LINE: readonly PlainColour[] = [
  'white',
  'silver',
  'grey',
  'black',
  'navy',
  'blue',
  'teal',
  'green',
  'lime',
  'yellow',
  'orange',
  'red',
  'pink',
  'purple',
];

/**
 * What a fluorescent paint is called where nobody is sure that it is one, the likelier first. Only that way round: who looks
 * for yellow finds fluorescent yellow among the yellow.
 */
const ORDINARY: Readonly<Record<FluorescentHue, readonly [PlainColour, PlainColour]>> = {
  yellow: ['yellow', 'lime'],
  orange: ['orange', 'red'],
  red: ['red', 'orange'],
};

const FLUORESCENT = 'fluorescent ';

export const fluorescent = (hue: FluorescentHue): ColourName => `${FLUORESCENT}${hue}`;

/** The two ordinary names of a fluorescent paint; null for an ordinary name. */
export const ordinaryOf = (name: ColourName): readonly [PlainColour, PlainColour] | null =>
  name.startsWith(FLUORESCENT) ? ORDINARY[name.slice(FLUORESCENT.length) as FluorescentHue] : null;

/** What is offered beside a colour that somebody looks for: at most two. */
export function neighboursOf(name: ColourName): readonly ColourName[] {
  const ordinary = ordinaryOf(name);
  if (ordinary) return ordinary;
  const place = LINE.indexOf(name as PlainColour);
  return place < 0 ? [] : LINE.filter((_, other) => Math.abs(other - place) === 1);
}

/** Whether one may be taken for the other. */
export const areNeighbours = (a: ColourName, b: ColourName): boolean =>
  neighboursOf(a).includes(b) || neighboursOf(b).includes(a);

/** What is found under: a fluorescent paint under its own name and under the ordinary one, which stands behind it. */
export const foundUnder = (names: readonly ColourName[]): readonly ColourName[] => [
  ...new Set(names.flatMap((name) => [name, ordinaryOf(name)?.[0] ?? name])),
];
