/** Colours as the first version told them: place in the boxes alone parts rider and bike. Kept for its cost only. */

import type { SubjectBoxes } from '../../src/core/measure/assembleSubjects.js';
import { correctionTables, type Light } from '../../src/core/measure/estimateLight.js';
import type { RgbImage } from '../../src/core/measure/images.js';
import type { SubjectMask } from '../../src/core/measure/maskSubject.js';
import { nameColour } from '../../src/core/measure/nameColour.js';
import type { Box, ColourName, ColourShare } from '../../src/core/measure/types.js';
import { type Lab, labOfRgb } from '../../src/core/numeric/colour.js';

/**
 * Share of each name that is machine and not paint on a motorcycle with little bodywork (tyres, seat, engine, forks,
 * exhaust, reflections), where the paint is. Judged from how they are built; common practice, no source.
 */
const MACHINE_SHARE: Readonly<Partial<Record<ColourName, number>>> = {
  black: 0.4,
  grey: 0.2,
  silver: 0.08,
  brown: 0.05,
  white: 0.03,
};
/** The shaded part of a paint reads as the first name where the second, its lit part, is at least this share of it. */
const SHADES: readonly { readonly shaded: ColourName; readonly lit: ColourName; readonly leastLit: number }[] = [
  { shaded: 'navy', lit: 'blue', leastLit: 1 / 3 },
  { shaded: 'brown', lit: 'orange', leastLit: 1 / 3 },
  { shaded: 'silver', lit: 'white', leastLit: 1 / 2 },
];
/** Eyes name a machine by its hue where it has one: a hue on a third of the paint outweighs a neutral on the rest. */
const HUE_WEIGHT = 2;
/** A weak hue may be a reflection of grass or sky; from this chroma on it is surely the surface's own. */
const SURE_CHROMA = 38;
const LEAST_SURENESS = 0.15;
/** Middle of tank and upper fairing, from the top of the bike's box, and the spread across and down, as shares of it. */
const PAINT_HEIGHT = 0.4;
const PAINT_SPREAD = [0.27, 0.22] as const;
/** Smaller shares are noise, reflections and stickers. */
const LEAST_SHARE = 0.06;
const LEAST_INSIDE = 0.5;

interface SubjectColours {
  readonly bike: readonly ColourShare[];
  readonly rider: readonly ColourShare[];
}

interface Tally {
  weight: number;
  readonly lab: [number, number, number];
}

export function firstColours(mask: SubjectMask, image: RgbImage, subject: SubjectBoxes, light: Light): SubjectColours {
  const bike = new Map<ColourName, Tally>();
  const rider = new Map<ColourName, Tally>();
  const named = namer(light);
  const { picture, rect, inside } = mask;
  const [left, top, width, height] = subject.bikeBox;
  const stepX = (rect.right - rect.left) / picture.width / image.width;
  const stepY = (rect.bottom - rect.top) / picture.height / image.height;
  const acrossOf = Float64Array.from({ length: picture.width }, (_, x) =>
    paintAcross((rect.left / image.width + (x + 0.5) * stepX - left) / width),
  );
  for (let y = 0, index = 0; y < picture.height; y += 1) {
    const atY = rect.top / image.height + (y + 0.5) * stepY;
    const down = paintDown((atY - top) / height);
    for (let x = 0; x < picture.width; x += 1, index += 1) {
      if (inside[index]! < LEAST_INSIDE) continue;
      const atX = rect.left / image.width + (x + 0.5) * stepX;
      const colour = named(picture.data, 3 * index);
      const riderShare = subject.riderBox ? riderWeight(subject.riderBox, subject.bikeBox, atX, atY) : 0;
      const place = acrossOf[x]! * down * (1 - riderShare);
      if (place > 0) add(bike, colour, inside[index]! * place);
      if (riderShare > 0) add(rider, colour, inside[index]! * riderShare);
    }
  }
  const paint = subject.what === 'motorcycle' ? withoutMachine(withoutShades(bike)) : bike;
  return { bike: sharesOf(paint), rider: sharesOf(withoutShades(rider)) };
}

interface Named {
  readonly name: ColourName;
  readonly lab: Lab;
  /** 0–1: how surely the hue is the surface's own; 1 for what has none. */
  readonly sureness: number;
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
    const name = nameColour(lab);
    const fresh = { name, lab, sureness: NEUTRALS.has(name) ? 1 : surenessOf(lab) };
    known.set(key, fresh);
    return fresh;
  };
}

const NEUTRALS: ReadonlySet<ColourName> = new Set(['black', 'grey', 'silver', 'white']);

const surenessOf = ([, a, b]: Lab): number => Math.min(1, Math.max(LEAST_SURENESS, (a * a + b * b) / SURE_CHROMA ** 2));

/**
 * Their product is 1 where tank and upper fairing are: in the middle, about a third of the way down the bike's box; near 0
 * at the wheels, 0 outside.
 */
const paintAcross = (u: number): number => (u < 0 || u > 1 ? 0 : bell((u - 0.5) / PAINT_SPREAD[0]));
const paintDown = (v: number): number => (v < 0 || v > 1 ? 0 : bell((v - PAINT_HEIGHT) / PAINT_SPREAD[1]));
const bell = (deviations: number): number => Math.exp(-0.5 * deviations ** 2);

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

function add(tallies: Map<ColourName, Tally>, { name, lab, sureness }: Named, weight: number): void {
  const tally = tallies.get(name) ?? newTally(tallies, name);
  const counted = weight * sureness;
  const share = counted / (tally.weight + counted);
  for (let axis = 0; axis < 3; axis += 1) tally.lab[axis]! += share * (lab[axis]! - tally.lab[axis]!);
  tally.weight += counted;
}

function newTally(tallies: Map<ColourName, Tally>, name: ColourName): Tally {
  const tally: Tally = { weight: 0, lab: [0, 0, 0] };
  tallies.set(name, tally);
  return tally;
}

/** A colour's shaded part joins its lit part, whose Lab value it takes. */
function withoutShades(tallies: ReadonlyMap<ColourName, Tally>): Map<ColourName, Tally> {
  const joined = new Map(tallies);
  for (const { shaded, lit, leastLit } of SHADES) {
    const [dark, bright] = [joined.get(shaded), joined.get(lit)];
    if (!dark || !bright || bright.weight < leastLit * dark.weight) continue;
    joined.delete(shaded);
    joined.set(lit, { ...bright, weight: bright.weight + dark.weight });
  }
  return joined;
}

/** What every machine shows is taken off; the rest is paint. */
function withoutMachine(tallies: ReadonlyMap<ColourName, Tally>): Map<ColourName, Tally> {
  const sum = weightOf(tallies);
  return new Map(
    [...tallies].map(([name, tally]) => {
      const paint = Math.max(0, tally.weight - (MACHINE_SHARE[name] ?? 0) * sum);
      return [name, { ...tally, weight: NEUTRALS.has(name) ? paint : HUE_WEIGHT * paint }];
    }),
  );
}

const weightOf = (tallies: ReadonlyMap<ColourName, Tally>): number =>
  [...tallies.values()].reduce((total, { weight }) => total + weight, 0);

/** Largest first, the small ones dropped, the rest made to sum to 1. */
function sharesOf(tallies: ReadonlyMap<ColourName, Tally>): ColourShare[] {
  const sum = weightOf(tallies);
  const kept = new Map([...tallies].filter(([, { weight }]) => weight > 0 && weight >= LEAST_SHARE * sum));
  const keptSum = weightOf(kept);
  return [...kept]
    .map(([name, { weight, lab }]) => ({ name, share: weight / keptSum, lab: [...lab] as const }))
    .sort((a, b) => b.share - a.share);
}
