/**
 * The colours of bike and rider apart. Every motorcycle has black tyres, a dark seat and an engine of grey metal, so the
 * word for a bike is that of its paint: paint lies in the upper middle of the bike's box, and bright hues there are paint
 * more surely than black or grey. These weights follow from how motorcycles are built, not from any set of photographs.
 */
import { type Lab, labOfRgb } from '../numeric/colour.js';
import type { SubjectBoxes } from './assembleSubjects.js';
import { correctionTables, type Light } from './estimateLight.js';
import type { RgbImage } from './images.js';
import type { SubjectMask } from './maskSubject.js';
import { nameColour } from './nameColour.js';
import type { Box, ColourName, ColourShare } from './types.js';

/** How much more surely than grey metal a pixel of this name is paint. */
const PAINT_WEIGHT: Readonly<Record<ColourName, number>> = {
  black: 0.75,
  grey: 0.7,
  brown: 0.6,
  silver: 1,
  white: 1.3,
  navy: 1.6,
  red: 2.5,
  orange: 2.5,
  yellow: 2.5,
  lime: 2.5,
  green: 2,
  teal: 2,
  blue: 2.2,
  purple: 2,
  pink: 2,
};
/** Smaller shares are noise, reflections and stickers. */
const LEAST_SHARE = 0.06;
const LEAST_INSIDE = 0.5;

export interface SubjectColours {
  readonly bike: readonly ColourShare[];
  readonly rider: readonly ColourShare[];
}

interface Tally {
  weight: number;
  readonly lab: [number, number, number];
}

export function measureColours(
  mask: SubjectMask,
  image: RgbImage,
  subject: SubjectBoxes,
  light: Light,
): SubjectColours {
  const bike = new Map<ColourName, Tally>();
  const rider = new Map<ColourName, Tally>();
  const named = namer(light);
  const { picture, rect, inside } = mask;
  const stepX = (rect.right - rect.left) / picture.width / image.width;
  const stepY = (rect.bottom - rect.top) / picture.height / image.height;
  for (let y = 0, index = 0; y < picture.height; y += 1) {
    const atY = rect.top / image.height + (y + 0.5) * stepY;
    for (let x = 0; x < picture.width; x += 1, index += 1) {
      if (inside[index]! < LEAST_INSIDE) continue;
      const atX = rect.left / image.width + (x + 0.5) * stepX;
      const colour = named(picture.data, 3 * index);
      const riderShare = subject.riderBox ? riderWeight(subject.riderBox, subject.bikeBox, atX, atY) : 0;
      const place = paintPlace(subject.bikeBox, atX, atY) * (1 - riderShare);
      if (place > 0) add(bike, colour, inside[index]! * place * PAINT_WEIGHT[colour.name]);
      if (riderShare > 0) add(rider, colour, inside[index]! * riderShare);
    }
  }
  return { bike: sharesOf(bike), rider: sharesOf(rider) };
}

interface Named {
  readonly name: ColourName;
  readonly lab: Lab;
}

/** Names pixels under the light's correction; equal colours to five bits a channel are named once. */
function namer(light: Light): (data: Uint8Array, at: number) => Named {
  const [red, green, blue] = correctionTables(light);
  const known = new Map<number, Named>();
  return (data, at) => {
    const [r, g, b] = [red[data[at]!]!, green[data[at + 1]!]!, blue[data[at + 2]!]!];
    const key = ((r >> 3) << 10) | ((g >> 3) << 5) | (b >> 3);
    const before = known.get(key);
    if (before) return before;
    const lab = labOfRgb((r & 0xf8) | 4, (g & 0xf8) | 4, (b & 0xf8) | 4);
    const fresh = { name: nameColour(lab), lab };
    known.set(key, fresh);
    return fresh;
  };
}

/** 1 in the upper middle of the bike, where tank and fairing are; near 0 at the wheels' feet; 0 outside. */
function paintPlace([left, top, width, height]: Box, x: number, y: number): number {
  const u = (x - left) / width - 0.5;
  const v = (y - top) / height - 0.42;
  if (Math.abs(u) > 0.5 || v < -0.42 || v > 0.58) return 0;
  return Math.exp(-0.5 * ((u / 0.28) ** 2 + (v / 0.24) ** 2));
}

/** How surely a pixel is the rider: inside the rider's box, more so near its middle and above the bike's middle. */
function riderWeight(rider: Box, bike: Box, x: number, y: number): number {
  const u = Math.abs((x - rider[0]) / rider[2] - 0.5) * 2;
  const v = Math.abs((y - rider[1]) / rider[3] - 0.5) * 2;
  if (u > 1 || v > 1) return 0;
  const aboveBike = y < bike[1] + 0.3 * bike[3];
  return aboveBike
    ? 1
    : Math.max(0, 1 - 0.9 * u * u) * Math.max(0.2, 1 - 0.8 * Math.max(0, (y - rider[1]) / rider[3] - 0.4));
}

function add(tallies: Map<ColourName, Tally>, { name, lab }: Named, weight: number): void {
  const tally = tallies.get(name) ?? { weight: 0, lab: [0, 0, 0] };
  tally.weight += weight;
  for (let axis = 0; axis < 3; axis += 1) tally.lab[axis]! += weight * lab[axis]!;
  tallies.set(name, tally);
}

/** Largest first, the small ones dropped, the rest made to sum to 1. */
function sharesOf(tallies: ReadonlyMap<ColourName, Tally>): ColourShare[] {
  const sum = [...tallies.values()].reduce((total, { weight }) => total + weight, 0);
  const kept = [...tallies].filter(([, { weight }]) => weight >= LEAST_SHARE * sum && weight > 0);
  const keptSum = kept.reduce((total, [, { weight }]) => total + weight, 0);
  return kept
    .map(([name, { weight, lab }]) => ({
      name,
      share: weight / keptSum,
      lab: [lab[0] / weight, lab[1] / weight, lab[2] / weight] as const,
    }))
    .sort((a, b) => b.share - a.share);
}
