/** Invented riders with their look-alikes, and the shots they are seen in: what the bike network is taught on. */

import { PAINTS, type Rgb } from '../../../demo/render/colours.js';
import type { BikeInShot, Shot } from '../../../demo/render/frame.js';
import { type Light, lightOf, type Sky } from '../../../demo/render/light.js';
import type { Livery } from '../../../demo/render/livery.js';
import { clamp, exp, log, sin } from '../../../demo/render/maths.js';
import type { Random } from '../../../demo/render/noise.js';
import type { PoseName } from '../../../demo/render/rider.js';
import { KERBS, type Scene, type Verge, type Wall } from '../../../demo/render/scene.js';
import type { ShapeName } from '../../../demo/render/shapes.js';
import type { ColourName } from '../../../src/core/measure/types.js';
import { type Build, inventBuild, reshaped } from './build.js';

export interface Invented {
  readonly shape: ShapeName;
  readonly livery: Livery;
  readonly build: Build;
}

/** Without the fluorescent: the network was taught before there were any. */
const NAMES = (Object.keys(PAINTS) as ColourName[]).filter((name) => !name.startsWith('fluorescent'));
/** Nearly a third of a field rides black. */
const BIKES: readonly ColourName[] = [...NAMES, 'black', 'black', 'black', 'black', 'black', 'white', 'red', 'blue'];
const SUITS: readonly ColourName[] = [...NAMES, ...Array<ColourName>(9).fill('black'), 'white', 'white'];

function bikeOf(random: Random): Pick<Livery, 'base' | 'accent' | 'line' | 'pattern' | 'rims' | 'number' | 'plate'> {
  const number = random.isTrue(0.35) ? String(random.whole(1, random.oneOf([9, 99, 99, 999]))) : null;
  return {
    base: random.oneOf(BIKES),
    accent: random.oneOf(NAMES),
    line: random.oneOf(NAMES),
    pattern: random.oneOf(['plain', 'sweep', 'bands', 'split', 'lowerHalf', 'stripe', 'flames', 'checks']),
    rims: random.isTrue(0.6) ? 'black' : random.oneOf(NAMES),
    number,
    plate: random.oneOf(['white', 'white', 'yellow', 'black', 'red', 'green', 'blue']),
  };
}

const suitOf = (random: Random): Pick<Livery, 'suit' | 'suitAccent' | 'suitPattern' | 'boots' | 'gloves'> => ({
  suit: random.oneOf(SUITS),
  suitAccent: random.oneOf(NAMES),
  suitPattern: random.oneOf(['plain', 'sides', 'yoke', 'hoops', 'legs']),
  boots: random.oneOf(['black', 'black', 'white', 'red']),
  gloves: random.oneOf(['black', 'black', 'white', 'red', 'blue']),
});

const helmetOf = (random: Random): Pick<Livery, 'helmet' | 'helmetAccent' | 'helmetPattern' | 'visor'> => ({
  helmet: random.oneOf(NAMES),
  helmetAccent: random.oneOf(NAMES),
  helmetPattern: random.oneOf(['plain', 'wave', 'spokes', 'stripe', 'crown']),
  visor: random.oneOf(['dark', 'dark', 'blue', 'amber']),
});

/** A rider and three who are easily mistaken: same bike, same bike and leathers, same clothes on another bike. */
export function inventFamily(random: Random): readonly Invented[] {
  const shape = random.oneOf(['sport', 'sport', 'twin', 'naked'] as const);
  const build = inventBuild(random);
  const first = { ...bikeOf(random), ...suitOf(random), ...helmetOf(random), dirt: random.between(0, 0.6) };
  return [
    { shape, build, livery: first },
    { shape, build, livery: { ...first, ...suitOf(random), ...helmetOf(random) } },
    { shape, build, livery: { ...first, ...helmetOf(random) } },
    {
      shape: random.oneOf(['sport', 'twin', 'naked'] as const),
      build: inventBuild(random),
      livery: { ...first, ...bikeOf(random) },
    },
  ];
}

/** Every paint a little off, some quite another colour: fifteen fixed shades would be learned by heart. */
export function inventShades(random: Random): Record<ColourName, Rgb> {
  const shade = (paint: Rgb): Rgb => {
    if (random.isTrue(0.15)) return [random() ** 2, random() ** 2, random() ** 2];
    const all = 0.3 * random.normal();
    return paint.map((v) => clamp((v + 0.004) * exp(all + 0.22 * random.normal()), 0.004, 0.9)) as unknown as Rgb;
  };
  return Object.fromEntries(NAMES.map((name) => [name, shade(PAINTS[name])])) as Record<ColourName, Rgb>;
}

const SKIES: readonly Sky[] = [
  { sunColour: [4, 3.6, 3], zenith: [0.24, 0.42, 0.86], horizon: [0.84, 0.92, 1.02], cloud: 0.5 },
  { sunColour: [3.9, 2.9, 1.8], zenith: [0.27, 0.4, 0.72], horizon: [0.98, 0.86, 0.74], cloud: 0.3 },
  { sunColour: [2.6, 1.5, 0.7], zenith: [0.22, 0.3, 0.52], horizon: [0.95, 0.66, 0.45], cloud: 0.3 },
  { sunColour: [0.9, 0.88, 0.84], zenith: [0.95, 1.0, 1.08], horizon: [1.12, 1.15, 1.2], cloud: 0.95 },
  { sunColour: [0.12, 0.12, 0.12], zenith: [0.5, 0.62, 0.85], horizon: [0.6, 0.68, 0.8], cloud: 0.7 },
];

/** Noon, evening, overcast and shade; the sun anywhere, often behind the bike. */
function inventLight(random: Random, azimuthDeg: number): Light {
  const sky = random.oneOf(SKIES);
  const isEvening = sky.sunColour[2] < 1.9 && sky.sunColour[0] > 2;
  const towards = random.isTrue(0.25) ? azimuthDeg + 180 + random.between(-30, 30) : random.between(0, 360);
  return lightOf(sky, towards, isEvening ? random.between(6, 22) : random.between(22, 62));
}

const nearSide = (random: Random): Scene['left'] => ({
  edge: random.between(1.2, 6),
  kerb: random.between(0.8, 1.3),
  kerbColours: KERBS[random.oneOf(['redWhite', 'blueWhite', 'greenWhite', 'blackYellow'] as const)],
  verges: [[random.oneOf(['grass', 'gravel', 'runOff', 'concrete'] as const), 100]],
  walls: [],
});

function farSide(random: Random): Scene['left'] {
  const verge = (): Verge => random.oneOf(['grass', 'grass', 'gravel', 'runOff', 'sand', 'concrete']);
  const walls: Wall[] = [];
  let q = random.between(9, 26);
  for (const kind of ['tyres', 'rail', 'boards', 'fence', 'huts', 'dune', 'trees'] as const) {
    if (random.isTrue(0.55)) continue;
    const top = { tyres: 1.15, rail: 0.9, boards: 1.15, fence: 3.2, huts: 3.8, dune: 7, trees: 16 }[kind];
    walls.push({ kind, q, bottom: 0, top: top * random.between(0.7, 1.3), seed: random.whole(1, 99) });
    q += random.between(1.5, 16);
  }
  return {
    ...nearSide(random),
    edge: random.between(3, 9),
    verges: [
      [verge(), 14],
      [verge(), 28],
      [verge(), 400],
    ],
    walls,
  };
}

function inventScene(random: Random, azimuthDeg: number, leanDeg: number): Scene {
  const near = nearSide(random);
  const far = farSide(random);
  const seesFromRight = sin((azimuthDeg / 180) * Math.PI) > 0;
  const radius = Math.abs(leanDeg) < 12 ? 900 : Math.sign(leanDeg) * random.between(30, 140);
  const sides = seesFromRight ? { left: far, right: near } : { left: near, right: far };
  return { ...sides, radius, seed: random.whole(1, 500), dryness: random() };
}

/** From the side, three-quarter from ahead and behind, nearly from ahead, and the rear twice. */
const VIEWS_DEG: readonly (readonly [number, number])[] = [
  [70, 110],
  [70, 110],
  [30, 70],
  [30, 70],
  [10, 30],
  [110, 150],
  [110, 150],
  [150, 180],
  [160, 180],
];

function poseAt(random: Random, leanDeg: number): PoseName {
  if (Math.abs(leanDeg) < 14) return random.oneOf(['tucked', 'upright'] as const);
  const isFull = Math.abs(leanDeg) > 34;
  return leanDeg > 0 ? (isFull ? 'rightFull' : 'rightHalf') : isFull ? 'leftFull' : 'leftHalf';
}

export function inventShot(rider: Invented, other: Invented, edgePx: number, random: Random): Shot {
  const azimuthDeg = random.between(...random.oneOf(VIEWS_DEG)) * (random.isTrue(0.5) ? 1 : -1);
  const leanDeg = random.isTrue(0.35) ? random.between(-8, 8) : random.between(15, 52) * (random.isTrue(0.5) ? 1 : -1);
  const light = inventLight(random, azimuthDeg);
  const lit = light.sunColour[1] * light.sun[1] + 0.3 * (light.zenith[1] + light.horizon[1]);
  const bike = (one: Invented, ahead: number, aside: number): BikeInShot => ({
    shape: one.shape,
    livery: one.livery,
    reshape: (model) => reshaped(model, one.build),
    ahead,
    aside,
    leanDeg: leanDeg + (ahead === 0 ? 0 : random.between(-4, 4)),
    pose: poseAt(random, leanDeg),
  });
  const bikes = [bike(rider, 0, 0)];
  if (random.isTrue(0.15)) bikes.push(bike(other, random.between(-3.4, -2), random.between(-1.8, 1.8)));
  const isBlurred = random.isTrue(0.12);
  return {
    width: edgePx,
    height: edgePx,
    scene: inventScene(random, azimuthDeg, leanDeg),
    light,
    azimuthDeg,
    elevationDeg: random.isTrue(0.8) ? random.between(1, 7) : random.between(7, 22),
    distanceM: random.between(18, 60),
    // Seen from the side 2.05 m must fit; from ahead the bike is short and the rider's height decides.
    fill: mixFill(azimuthDeg) * random.between(0.88, 1.08),
    offX: random.between(-0.03, 0.03),
    offY: random.between(0.05, 0.13),
    rollDeg: random.between(-4, 4),
    speed: random.between(14, 40),
    shutterS: 1 / random.oneOf([160, 250, 320, 500, 800, 1250]),
    fNumber: random.oneOf([4, 5.6, 7.1, 9]),
    bikes,
    defocusPx: random.isTrue(0.12) ? random.between(0.5, 2) : 0,
    shakePx: isBlurred ? [random.between(-5, 5), random.between(-2, 2)] : [0, 0],
    alongM: random.between(0, 400),
    seed: random.whole(1, 1e6),
    exposureEv: clamp((0.6 * log(2.2 / lit)) / Math.LN2 + 0.4 * random.normal(), -1.2, 1.8),
  };
}

const mixFill = (azimuthDeg: number): number => 0.7 + 0.25 * (1 - Math.abs(sin((azimuthDeg / 180) * Math.PI)));
