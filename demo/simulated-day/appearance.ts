/**
 * How bikes look to the measurer: descriptors as vectors (identity + noise of spot, session, pass and frame, with
 * directions that noise prefers) and colour shares. The noise levels follow a real two-camera set of motorcycles.
 */

import type { ColourShare, PlainColour } from '../../src/core/measure/types.js';
import { type Random, seededRandom } from '../../src/core/numeric/random.js';
import type { DayOptions } from './options.js';
import type { SimulatedRider, SimulatedSession } from './trackDay.js';

const DIMENSIONS = 192;
const NUISANCE_DIRECTIONS = 24;
const NUISANCE_SHARE = 0.35;
/** Identities lie mostly in few directions: variance falls by e every so many dimensions. */
const IDENTITY_DECAY = 70;
/** Two riders share this much of their looks when they ride the same kind of bike. */
const MODEL_SHARE = 0.16;
const MODELS = 14;
/** Black bikes share this much of their looks besides. */
const BLACK_SHARE = 0.25;
const SHARES = { spot: 0.3, session: 0.2, pass: 0.3, frame: 0.2 };
/** Two riders of one bike share this much of their looks. */
const SHARED_BIKE = 0.6;
/** Who wears a suit over their leathers in the rain, how many kinds there are, and how much of the looks they hide. */
const WET_SUIT_SHARE = 0.8;
const WET_SUITS = 3;
const HIDDEN_BY_SUIT = 0.35;
/** What a session's light does to all bikes alike. */
const SESSION_SHIFT = 0.35;
/** Some sightings are far worse than others: log-normal scale of the noise. */
const NOISE_TAIL = 0.45;

type Vector = Float64Array;

export interface Appearance {
  /** One bike in one frame: int8, base64. */
  descriptor(rider: number, session: SimulatedSession, spot: number, pass: string): string;
  bikeColours(rider: number): readonly ColourShare[];
  riderColours(rider: number, session: SimulatedSession): readonly ColourShare[];
  /** A piece of a bike, half like it. */
  piece(rider: number, session: SimulatedSession): string;
  /** The bike that stands behind the barrier at a spot all day. */
  parked(spot: number): string;
}

export function makeAppearance(o: DayOptions, riders: readonly SimulatedRider[]): Appearance {
  const random = seededRandom(o.seed * 977 + 3);
  const noiseOf = makeNoise(random);
  const identity = (): Vector => identityVector(random);
  const models = Array.from({ length: MODELS }, identity);
  const fleets = [identity(), identity()];
  const { black, blacks, random: extra } = blackBikes(o, riders);
  const looks: Looks[] = riders.map((rider, i) => {
    const own = blend(models[random.integer(0, MODELS - 1)]!, identity(), MODEL_SHARE);
    const painted = blacks.has(i) ? blend(black, own, BLACK_SHARE) : own;
    const morning = rider.fleet < 0 ? painted : blend(fleets[rider.fleet]!, own, 0.7);
    return [morning, rider.changesDress ? blend(morning, identity(), 0.75) : morning] as const;
  });
  shareBikes(looks, riders);
  const rain = rainOf(o, riders, looks);
  const colours = riders
    .map((rider) => makeColours(random, rider.fleet))
    .map((own, i) => (o.blackShare === undefined ? own : repainted(own, blacks.has(i))));
  for (const [i, { sharesBikeOf }] of riders.entries())
    if (sharesBikeOf >= 0) colours[i] = { ...colours[i]!, bike: colours[sharesBikeOf]!.bike };
  const parked = new Map<number, Vector>();
  const remembered = new Map<string, Vector>();
  const remember = (key: string, isScaled: boolean): Vector => {
    let vector = remembered.get(key);
    if (vector === undefined) {
      vector = noiseOf(isScaled ? Math.exp(NOISE_TAIL * random.normal() - NOISE_TAIL ** 2) : 1);
      remembered.set(key, vector);
    }
    return vector;
  };
  const isWet = (rider: number, { round }: SimulatedSession): boolean =>
    round >= (o.rainFromRound ?? Number.POSITIVE_INFINITY) && rain[rider] !== null;
  const lookOf = (rider: number, session: SimulatedSession): Vector =>
    isWet(rider, session) ? rain[rider]!.look : looks[rider]![session.isAfternoon ? 1 : 0];
  const level = (share: number): number => Math.sqrt(o.noise * share);
  return {
    descriptor(rider, session, spot, pass) {
      const sum = Float64Array.from(lookOf(rider, session));
      add(sum, remember(`light ${session.name} ${spot}`, false), SESSION_SHIFT);
      add(sum, remember(`view ${rider} ${spot}`, true), level(SHARES.spot));
      add(sum, remember(`session ${rider} ${session.name} ${spot}`, true), level(SHARES.session));
      add(sum, remember(`pass ${pass}`, true), level(SHARES.pass));
      add(sum, noiseOf(Math.exp(NOISE_TAIL * random.normal() - NOISE_TAIL ** 2)), level(SHARES.frame));
      return encode(sum);
    },
    bikeColours: (rider) => jitter(colours[rider]!.bike, random),
    riderColours: (rider, session) =>
      jitter(
        isWet(rider, session)
          ? rain[rider]!.colours
          : session.isAfternoon && riders[rider]!.changesDress
            ? colours[rider]!.otherDress
            : colours[rider]!.dress,
        random,
      ),
    piece: (rider, session) => encode(blend(lookOf(rider, session), identityVector(extra), 0.5)),
    parked(spot) {
      const stands = parked.get(spot) ?? identityVector(extra);
      parked.set(spot, stands);
      return encode(blend(stands, identityVector(extra), 0.6));
    },
  };
}

type Looks = readonly [morning: Vector, afternoon: Vector];

/** In place: who rides somebody else's bike looks like them but for the clothes. */
function shareBikes(looks: Looks[], riders: readonly SimulatedRider[]): void {
  for (const [i, { sharesBikeOf }] of riders.entries()) {
    if (sharesBikeOf < 0) continue;
    const [morning, afternoon] = looks[i]!;
    const bike = looks[sharesBikeOf]![0];
    looks[i] = [blend(bike, morning, SHARED_BIKE), blend(bike, afternoon, SHARED_BIKE)];
  }
}

interface InTheRain {
  readonly look: Vector;
  readonly colours: readonly ColourShare[];
}

/** Per rider how they look in a wet suit, null for who wears none. Draws of its own, so that dry days stay as they were. */
function rainOf(
  o: DayOptions,
  riders: readonly SimulatedRider[],
  looks: readonly Looks[],
): readonly (InTheRain | null)[] {
  if (o.rainFromRound === undefined) return riders.map(() => null);
  const random = seededRandom(o.seed * 6761 + 29);
  const suits = Array.from({ length: WET_SUITS }, () => identityVector(random));
  const names = ['black', 'yellow', 'grey'] as const;
  return looks.map(([, afternoon]) => {
    if (!random.chance(WET_SUIT_SHARE)) return null;
    const suit = random.integer(0, WET_SUITS - 1);
    const name = names[suit]!;
    return {
      look: blend(afternoon, suits[suit]!, 1 - HIDDEN_BY_SUIT),
      colours: [{ name, share: 0.9, lab: LAB[name] }],
    };
  });
}

/** Which own bikes are black, and what black bikes share. Draws of its own, so that other days stay as they were. */
function blackBikes(o: DayOptions, riders: readonly SimulatedRider[]) {
  const random = seededRandom(o.seed * 5807 + 11);
  const black = identityVector(random);
  const share = o.blackShare ?? 0;
  const blacks = new Set(riders.flatMap(({ fleet }, i) => (random.chance(share) && fleet < 0 ? [i] : [])));
  return { black, blacks, random };
}

/** Black first where the bike is black, and nowhere else. */
function repainted<C extends { readonly bike: readonly ColourShare[] }>(own: C, isBlack: boolean): C {
  const [first, second] = own.bike as [ColourShare, ColourShare];
  const paint = (colour: ColourShare, name: PlainColour): ColourShare => ({ ...colour, name, lab: LAB[name] });
  if (isBlack) return { ...own, bike: [paint(first, 'black'), second.name === 'black' ? first : second] };
  return first.name === 'black' ? { ...own, bike: [second, paint(first, 'grey')] } : own;
}

function makeNoise(random: Random): (scale: number) => Vector {
  const directions = Array.from({ length: NUISANCE_DIRECTIONS }, () => {
    const v = Float64Array.from({ length: DIMENSIONS }, () => random.normal());
    const length = Math.hypot(...v);
    return v.map((x) => x / length);
  });
  const weights = unit(Float64Array.from({ length: NUISANCE_DIRECTIONS }, (_, k) => Math.exp(-k / 12)));
  return (scale) => {
    const plain = (scale * Math.sqrt(1 - NUISANCE_SHARE)) / Math.sqrt(DIMENSIONS);
    const out = Float64Array.from({ length: DIMENSIONS }, () => plain * random.normal());
    directions.forEach((direction, j) => {
      add(out, direction, scale * Math.sqrt(NUISANCE_SHARE) * weights[j]! * random.normal());
    });
    return out;
  };
}

const SPECTRUM = unit(Float64Array.from({ length: DIMENSIONS }, (_, k) => Math.exp(-k / IDENTITY_DECAY / 2)));

const identityVector = (random: Random): Vector => SPECTRUM.map((s) => s * random.normal());

function blend(a: Vector, b: Vector, shareOfA: number): Vector {
  return a.map((x, k) => Math.sqrt(shareOfA) * x + Math.sqrt(1 - shareOfA) * b[k]!);
}

function add(into: Vector, v: Vector, scale: number): void {
  for (let k = 0; k < into.length; k++) into[k] = into[k]! + scale * v[k]!;
}

function unit(v: Vector): Vector {
  let energy = 0;
  for (const x of v) energy += x * x;
  const scale = 1 / Math.sqrt(energy);
  return v.map((x) => x * scale);
}

/** Unit length, ×127 with the largest coordinate as the limit, base64. */
function encode(v: Vector): string {
  const u = unit(v);
  return Buffer.from(Int8Array.from(u, (x) => Math.max(-127, Math.min(127, Math.round(x * 127 * 3)))).buffer).toString(
    'base64',
  );
}

const LAB: Readonly<Record<PlainColour, readonly [number, number, number]>> = {
  black: [12, 0, 0],
  white: [94, 0, 0],
  grey: [50, 0, 0],
  silver: [74, 0, -1],
  red: [45, 66, 45],
  orange: [66, 42, 72],
  yellow: [88, -8, 84],
  lime: [85, -45, 75],
  green: [48, -45, 35],
  teal: [52, -32, -10],
  blue: [38, 18, -58],
  navy: [18, 8, -28],
  purple: [36, 42, -45],
  pink: [68, 48, -4],
  brown: [35, 18, 26],
};
const BIKE_COLOURS: readonly PlainColour[] = [
  'black',
  'black',
  'blue',
  'red',
  'green',
  'orange',
  'white',
  'yellow',
  'lime',
  'grey',
];
const DRESS_COLOURS: readonly PlainColour[] = ['black', 'black', 'white', 'red', 'blue', 'grey', 'yellow', 'green'];

function makeColours(random: Random, fleet: number) {
  const pair = (names: readonly PlainColour[]): readonly ColourShare[] => {
    const first = random.oneOf(names);
    const second = random.oneOf(names.filter((name) => name !== first));
    const share = random.between(0.45, 0.7);
    return [
      { name: first, share, lab: LAB[first] },
      { name: second, share: 0.9 - share, lab: LAB[second] },
    ];
  };
  const fleetColours = [pair(['red', 'white']), pair(['blue', 'black'])];
  return {
    bike: fleet < 0 ? pair(BIKE_COLOURS) : fleetColours[fleet]!,
    dress: pair(DRESS_COLOURS),
    otherDress: pair(DRESS_COLOURS),
  };
}

function jitter(colours: readonly ColourShare[], random: Random): readonly ColourShare[] {
  const seen = colours.map(({ name, share, lab }) => ({ name, share: share * Math.exp(0.25 * random.normal()), lab }));
  if (random.chance(0.25)) {
    const name = random.oneOf(['grey', 'black', 'silver'] as const);
    if (!seen.some((colour) => colour.name === name)) seen.push({ name, share: 0.25, lab: LAB[name] });
  }
  const total = seen.reduce((sum, { share }) => sum + share, 0);
  return seen.map((colour) => ({ ...colour, share: colour.share / total })).sort((a, b) => b.share - a.share);
}
