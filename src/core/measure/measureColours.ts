/**
 * The colours of bike, leathers and helmet apart. Every motorcycle has black tyres, a dark seat and an engine of grey metal, so the
 * word for a bike is that of its paint: paint lies in the upper middle of the bike's box, what every machine shows
 * anyway is taken off, and a paint's own shade counts to its lit part. The weights are reasoned from how motorcycles are
 * built and lit, in round numbers; results on labelled photographs were looked at between a few such choices, so figures
 * on those photographs flatter. Half or twice most weights moves them by a few in a hundred.
 */
import { type Lab, type LinearRgb, labOfRgb } from '../numeric/colour.js';
import type { SubjectBoxes } from './assembleSubjects.js';
import { correctionTables, type Light } from './estimateLight.js';
import { findVeil } from './findVeil.js';
import type { RgbImage } from './images.js';
import type { SubjectMask } from './maskSubject.js';
import { nameColour } from './nameColour.js';
import { findWorn } from './partSubject.js';
import type { ColourName, ColourShare } from './types.js';

type MachineShare = Readonly<Partial<Record<ColourName, number>>>;

/**
 * Share of each name that is machine and not paint on a motorcycle with little bodywork (tyres, seat, engine, forks,
 * exhaust, reflections), where the paint is. Judged from how they are built; common practice, no source.
 */
const MACHINE_SHARE: MachineShare = {
  black: 0.4,
  grey: 0.2,
  silver: 0.08,
  brown: 0.05,
  white: 0.03,
};
/**
 * One paint shows other colours in shade and in glare: `aside` reads as `own` where there is at least this share of it. In
 * this order: what glare takes from an orange is the paint's own before its shade is weighed against it.
 * A camera's curve bends each channel by itself, so an orange turns red in the dark and yellow where it is bright, while
 * red paint and yellow paint never show orange.
 */
const SAME_PAINT: readonly { readonly aside: ColourName; readonly own: ColourName; readonly leastOwn: number }[] = [
  { aside: 'navy', own: 'blue', leastOwn: 1 / 3 },
  { aside: 'brown', own: 'orange', leastOwn: 1 / 3 },
  { aside: 'yellow', own: 'orange', leastOwn: 1 / 2 },
  { aside: 'red', own: 'orange', leastOwn: 1 / 3 },
  { aside: 'silver', own: 'white', leastOwn: 1 / 2 },
];
/** Eyes name a machine by its hue where it has one: a hue on a third of the paint outweighs a neutral on the rest. */
const HUE_WEIGHT = 2;
/** A weak hue may be a reflection of grass or sky; from this chroma on it is surely the surface's own. */
const SURE_CHROMA = 38;
const LEAST_SURENESS = 0.15;
/**
 * Middle of tank and upper fairing, from the top of the bike's box, and the spread across and down, as shares of it:
 * about where rendered machines show most paint among what is not worn.
 */
const PAINT_HEIGHT = 0.35;
const PAINT_SPREAD = [0.45, 0.22] as const;
/** From here on a pixel is the helmet's alone, below it the leathers'. */
const LEAST_HELMET = 0.5;
/** Share of a helmet that is visor and its shade: names of most rendered helmets are right with it. */
const VISOR_SHARE: MachineShare = { black: 0.3 };
/** Smaller shares are noise, reflections and stickers. */
const LEAST_SHARE = 0.06;
const LEAST_INSIDE = 0.5;

export interface SubjectColours {
  readonly bike: readonly ColourShare[];
  /** Leathers, and the helmet where it is not told apart. */
  readonly rider: readonly ColourShare[];
  /** Empty where nobody has said what is the helmet. */
  readonly helmet: readonly ColourShare[];
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
  const helmet = new Map<ColourName, Tally>();
  const named = namer(light, findVeil(mask));
  const { picture, rect, inside } = mask;
  const worn = mask.worn ?? findWorn(mask, image, subject);
  const [left, top, width, height] = subject.bikeBox;
  const stepX = (rect.right - rect.left) / picture.width / image.width;
  const stepY = (rect.bottom - rect.top) / picture.height / image.height;
  const acrossOf = Float64Array.from({ length: picture.width }, (_, x) =>
    paintAcross((rect.left / image.width + (x + 0.5) * stepX - left) / width),
  );
  for (let y = 0, index = 0; y < picture.height; y += 1) {
    const down = paintDown((rect.top / image.height + (y + 0.5) * stepY - top) / height);
    for (let x = 0; x < picture.width; x += 1, index += 1) {
      if (inside[index]! < LEAST_INSIDE) continue;
      const colour = named(picture.data, 3 * index);
      const ofBike = inside[index]! * (1 - worn[index]!) * acrossOf[x]! * down;
      if (ofBike > 0) add(bike, colour, ofBike);
      const onHead = mask.helmet?.[index] ?? 0;
      if (onHead > LEAST_HELMET) add(helmet, colour, inside[index]! * onHead);
      else if (worn[index]! > 0) add(rider, colour, inside[index]! * worn[index]!);
    }
  }
  const paint = subject.what === 'motorcycle' ? withHueFirst(without(MACHINE_SHARE, asPaints(bike))) : bike;
  if (mask.isRidden === false) return { bike: sharesOf(paint), rider: [], helmet: [] };
  return {
    bike: sharesOf(paint),
    rider: sharesOf(asPaints(rider)),
    helmet: sharesOf(without(VISOR_SHARE, asPaints(helmet))),
  };
}

/**
 * Of the light's tint this much (as a power) is taken off: part of a bike lies in another light than the ground about it,
 * in sun or sky alone, and the camera has balanced the picture before. Right on most rendered riders in four lights.
 */
const TINT_TAKEN_OFF = 0.5;

function tintPartlyOff({ gains }: Light): Light {
  const luminanceOf = ([red, green, blue]: Light['gains']) => 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  const [red, green, blue] = gains.map((gain) => gain ** TINT_TAKEN_OFF) as unknown as Light['gains'];
  const scale = luminanceOf(gains) / luminanceOf([red, green, blue]);
  return { gains: [scale * red, scale * green, scale * blue] };
}

interface Named {
  readonly name: ColourName;
  readonly lab: Lab;
  /** 0–1: how surely the hue is the surface's own; 1 for what has none. */
  readonly sureness: number;
}

/** Names pixels under the light's correction, without the veil; equal colours to five bits a channel are named once. */
function namer(light: Light, veil: LinearRgb): (data: Uint8Array, at: number) => Named {
  const [red, green, blue] = correctionTables(tintPartlyOff(light), veil);
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

/** What a paint shows in shade or glare joins it, and takes its Lab value. */
function asPaints(tallies: ReadonlyMap<ColourName, Tally>): Map<ColourName, Tally> {
  const joined = new Map(tallies);
  for (const { aside, own, leastOwn } of SAME_PAINT) {
    const [other, paint] = [joined.get(aside), joined.get(own)];
    if (!other || !paint || paint.weight < leastOwn * other.weight) continue;
    joined.delete(aside);
    joined.set(own, { ...paint, weight: paint.weight + other.weight });
  }
  return joined;
}

/** What every machine (or helmet) shows is taken off; the rest is paint. */
function without(shown: MachineShare, tallies: ReadonlyMap<ColourName, Tally>): Map<ColourName, Tally> {
  const sum = weightOf(tallies);
  return reweighted(tallies, (name, weight) => Math.max(0, weight - (shown[name] ?? 0) * sum));
}

const withHueFirst = (paints: ReadonlyMap<ColourName, Tally>): Map<ColourName, Tally> =>
  reweighted(paints, (name, weight) => (NEUTRALS.has(name) ? weight : HUE_WEIGHT * weight));

const reweighted = (
  tallies: ReadonlyMap<ColourName, Tally>,
  weightFor: (name: ColourName, weight: number) => number,
): Map<ColourName, Tally> =>
  new Map([...tallies].map(([name, tally]) => [name, { ...tally, weight: weightFor(name, tally.weight) }]));

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
