/**
 * Dust on a sensor, from frames of one body: dark round spots that stay at one place of the sensor while the scene changes.
 *
 * At every place each frame says how many of its own standard deviations the place is darker than what lies around it; held to ±3.5,
 * so that no object in one frame can speak for the rest; and the frames are summed as Stouffer's weighted z (from memory; the weights
 * are our own). What lies 6 deviations away is looked at once more: darker in most frames by itself, no clear frame against it,
 * darker than all eight sides (an edge or a rope is not), and no deeper than dust is. Not learnt from any picture: the limits follow
 * from the number of places (some 10^7) under a normal law, and from what the issue calls dust (6–40 px of 24 megapixels, 3–15 %).
 * Range: smooth or finely grained surroundings, at least five different scenes; more than 24 add little. Rules PL800–PL808.
 */
import { isSameScene, structureOf } from './sameScene.js';
import {
  darkerAt,
  differenceIn,
  isClean,
  type LightSums,
  lightAt,
  lightSums,
  medianOf,
  PROBES,
  type Probe,
  scatterIn,
} from './surroundings.js';
import type { DustFound, DustFrame, DustInput, DustSpot } from './types.js';

/**
 * In grain and foliage perhaps one place in 200 is as dark as ±3.5 by accident, not one in 4,000: five such frames at one place leave
 * 10^7 · 200^−5 = 3·10^−5 accidents a body, three would leave one.
 */
const LEAST_SCENES = 5;
const MOST_SCENES = 24;
/** Smaller images hide the smallest spots altogether. */
const LEAST_SCALE = 0.4;
const TILE_PX = 64;
const MOST_SIGMAS = 3.5;
const SIGMAS = 6;
/** Coarser surroundings say nothing; up to the first they weigh alike, so that no single smooth frame decides. */
const FULL_WEIGHT_SCATTER = 0.02;
const MOST_SCATTER = 0.12;
/** Logarithms of light. A spot of 3 % is weakened by its own soft rim; 15 % in the picture's values is 30 % of the light. */
const LEAST_DEPTH = 0.012;
const MOST_DEPTH = 0.45;
/** A square's side is about this share of the spot it answers best. */
const SIDE_OF_SPOT = 0.75;

interface Witness {
  readonly frame: DustFrame;
  readonly light: LightSums;
}

interface Candidate {
  readonly x: number;
  readonly y: number;
  readonly sigmas: number;
  readonly probe: Probe;
}

export function findDust({ frames, scale }: DustInput, limits: SecondLook = SECOND_LOOK): DustFound {
  if (scale < LEAST_SCALE)
    return {
      kind: 'cannot-tell',
      reason: `Expected pictures of at least ${Math.round(6000 * LEAST_SCALE)} pixels along the long edge, but these have about ${Math.round(6000 * scale)}: the smallest spots do not show.`,
    };
  const scenes = differentScenes(frames);
  if (scenes.length < LEAST_SCENES)
    return {
      kind: 'cannot-tell',
      reason: `Expected at least ${LEAST_SCENES} frames of different scenes but found ${scenes.length}. Photograph the sky a few times between sessions.`,
    };
  const spots = bandsOf(scenes[0]!.image.height).flatMap((band) => spotsInBand(scenes, band, scale, limits));
  return { kind: 'looked', spots, frames: scenes.length };
}

/** Frames of one size, the first of each scene. */
function differentScenes(frames: readonly DustFrame[]): readonly DustFrame[] {
  const kept: { readonly frame: DustFrame; readonly structure: Float64Array }[] = [];
  const first = frames[0]?.image;
  for (const frame of frames) {
    if (frame.image.width !== first?.width || frame.image.height !== first.height) continue;
    const structure = structureOf(lightSums(frame.image));
    if (!kept.some((one) => isSameScene(one.structure, structure))) kept.push({ frame, structure });
    if (kept.length === MOST_SCENES) break;
  }
  return kept.map(({ frame }) => frame);
}

/** Rows that are answered for, and those that are looked at, a probe's reach more on either side. */
interface Band {
  readonly from: number;
  readonly to: number;
  readonly top: number;
  readonly bottom: number;
}

/** The sums of 24 whole frames would fill a laptop's memory; those of a band take 300 MB. */
const BAND_PX = 256;
const REACH_PX = 40;

const bandsOf = (height: number): readonly Band[] =>
  Array.from({ length: Math.ceil(height / BAND_PX) }, (_, at) => ({
    from: at * BAND_PX,
    to: Math.min(height, (at + 1) * BAND_PX),
    top: Math.max(0, at * BAND_PX - REACH_PX),
    bottom: Math.min(height, (at + 1) * BAND_PX + REACH_PX),
  }));

function spotsInBand(scenes: readonly DustFrame[], band: Band, scale: number, limits: SecondLook): readonly DustSpot[] {
  const { width, height } = scenes[0]!.image;
  const rows = band.bottom - band.top;
  const witnesses = scenes.map((frame): Witness => {
    const data = frame.image.data.subarray(band.top * width, band.bottom * width);
    return { frame, light: lightSums({ data, width, height: rows }) };
  });
  const candidates = PROBES.flatMap((probe) => darkPlaces(witnesses, probe));
  return strongest(strongest(candidates).map((one) => centred(one, witnesses)))
    .filter(({ y }) => y + band.top >= band.from && y + band.top < band.to)
    .flatMap((one) => looked(one, { witnesses, scale, limits }))
    .map((spot) => ({ ...spot, y: (spot.y * rows + band.top) / height }));
}

const clampSigmas = (sigmas: number): number => Math.max(-MOST_SIGMAS, Math.min(MOST_SIGMAS, sigmas));
const weightOf = (scatter: number): number => Math.min(1, FULL_WEIGHT_SCATTER / scatter);

/** Places where the frames together are darker than chance allows, at one size of spot. */
function darkPlaces(witnesses: readonly Witness[], probe: Probe): readonly Candidate[] {
  const { width, height } = witnesses[0]!.light;
  const columns = Math.ceil(width / probe.step);
  const rows = Math.ceil(height / probe.step);
  const sums = new Float32Array(columns * rows);
  const weights = new Float32Array(columns * rows);
  for (const { light } of witnesses) addFrame(light, probe, columns, sums, weights);
  return lowest(sums, weights, columns, rows).map(({ column, row, sigmas }) => ({
    x: column * probe.step,
    y: row * probe.step,
    sigmas,
    probe,
  }));
}

function addFrame(light: LightSums, probe: Probe, columns: number, sums: Float32Array, weights: Float32Array): void {
  const { step, outer } = probe;
  const difference = differenceIn(light, probe);
  for (let top = 0; top < light.height; top += TILE_PX)
    for (let left = 0; left < light.width; left += TILE_PX) {
      const scatter = scatterIn(light, probe, left - 16, top - 16, left + TILE_PX + 16, top + TILE_PX + 16);
      if (scatter === null || scatter > MOST_SCATTER) continue;
      const weight = weightOf(scatter);
      const right = Math.min(left + TILE_PX, light.width - outer - 1);
      const bottom = Math.min(top + TILE_PX, light.height - outer - 1);
      const isTileClean = isClean(light, left - outer, top - outer, right + outer, bottom + outer);
      for (let y = firstOnGrid(Math.max(top, outer), step); y < bottom; y += step)
        for (let x = firstOnGrid(Math.max(left, outer), step); x < right; x += step) {
          if (!isTileClean && !isClean(light, x - outer, y - outer, x + outer, y + outer)) continue;
          const darker = difference(y * (light.width + 1) + x);
          const at = (y / step) * columns + x / step;
          sums[at]! += weight * clampSigmas(darker / scatter);
          weights[at]! += weight ** 2;
        }
    }
}

const firstOnGrid = (from: number, step: number): number => Math.ceil(from / step) * step;

function lowest(sums: Float32Array, weights: Float32Array, columns: number, rows: number) {
  const sigmas = sums.map((sum, at) => (weights[at]! > 0 ? sum / Math.sqrt(weights[at]!) : 0));
  const found: { column: number; row: number; sigmas: number }[] = [];
  for (let row = 1; row < rows - 1; row += 1)
    for (let column = 1; column < columns - 1; column += 1) {
      const at = row * columns + column;
      const here = sigmas[at]!;
      if (here > -SIGMAS) continue;
      const isLowest = [1, -1, columns, -columns, columns + 1, columns - 1, -columns + 1, -columns - 1].every(
        (by) => sigmas[at + by]! >= here,
      );
      if (isLowest) found.push({ column, row, sigmas: here });
    }
  return found;
}

/** One candidate for each place: the size of square that answers most. */
function strongest(candidates: readonly Candidate[]): readonly Candidate[] {
  const kept: Candidate[] = [];
  for (const one of [...candidates].sort((a, b) => a.sigmas - b.sigmas)) {
    const isNear = kept.some(
      ({ x, y, probe }) => Math.hypot(x - one.x, y - one.y) < 2 + probe.half + Math.max(probe.half, one.probe.half),
    );
    if (!isNear) kept.push(one);
  }
  return kept;
}

interface Answer {
  readonly witness: Witness;
  readonly darker: number;
  readonly scatter: number;
}

const LEAST_VOTES = 5;
/**
 * How the frames answer one by one. The weakest spot that n frames can carry over 6 deviations lies 6/√n of them down in each. A frame votes
 * for it within 0.7 of a deviation of that: three times in four where there is a spot; by chance three times in ten of 24 frames, once in
 * forty of five. At least 60 in 100 have to: of 24 they do for the weakest spot 96 times in 100, and by chance once in a thousand. (A limit of
 * 1.3 deviations whatever their number refused half of the weakest spots of 24.) At 55 in 100 clean renders, taken twenty at a time in two
 * orders, show one spot that is none. `tools/accuracy/dustLimits.ts` shows limits on made-up sky and tarmac and on renders.
 */
export interface SecondLook {
  readonly voteWithin: number;
  readonly leastShareOfVotes: number;
}
const SECOND_LOOK: SecondLook = { voteWithin: 0.7, leastShareOfVotes: 0.6 };
const SHOWS_FROM_SIGMAS = 1.5;
/** A frame so clear that the spot had to show, and it does not. */
const CLEAR_SIGMAS = 4;
const SHOWN_SHARE = 0.35;
/** Of a few clear frames one may err: grain has longer tails than a normal law. */
const MOST_AGAINST = 0.15;
const MOST_AGAINST_OF_FEW = 0.25;

/** Held to ±3.5 a clear spot is flat all over: its middle and size are where the frames are darkest without that limit. */
function centred({ x, y, probe, sigmas }: Candidate, witnesses: readonly Witness[]): Candidate {
  const reach = probe.half + 3;
  const tried = PROBES.flatMap((other) => {
    const scatters = witnesses.map((witness) => scatterAround(witness, other, x, y));
    return grid(reach, other.step).map(([dx, dy]) => ({
      x: x + dx,
      y: y + dy,
      sigmas,
      probe: other,
      mean: meanSigmas(witnesses, scatters, other, x + dx, y + dy),
    }));
  });
  const { mean: _, ...best } = tried.reduce((lowest, one) => (one.mean < lowest.mean ? one : lowest));
  return best;
}

const grid = (reach: number, step: number): readonly (readonly [number, number])[] => {
  const along = Array.from(
    { length: 2 * Math.floor(reach / step) + 1 },
    (_, at) => (at - Math.floor(reach / step)) * step,
  );
  return along.flatMap((dy) => along.map((dx) => [dx, dy] as const));
};

const scatterAround = ({ light }: Witness, probe: Probe, x: number, y: number): number | null => {
  const around = TILE_PX >> 1;
  const scatter = scatterIn(light, probe, x - around, y - around, x + around, y + around);
  return scatter === null || scatter > MOST_SCATTER ? null : scatter;
};

const canBeLaid = ({ width, height }: LightSums, { outer }: Probe, x: number, y: number): boolean =>
  x >= outer && y >= outer && x < width - outer && y < height - outer;

/** No single frame counts for more than twenty. */
const MOST_SIGMAS_OF_MIDDLE = 20;

function meanSigmas(
  witnesses: readonly Witness[],
  scatters: readonly (number | null)[],
  probe: Probe,
  x: number,
  y: number,
) {
  let sum = 0;
  let count = 0;
  for (const [at, { light }] of witnesses.entries()) {
    const scatter = scatters[at];
    if (scatter == null || !canBeLaid(light, probe, x, y)) continue;
    const darker = darkerAt(light, probe, x, y);
    if (Number.isNaN(darker)) continue;
    sum += Math.max(-MOST_SIGMAS_OF_MIDDLE, darker / scatter);
    count += 1;
  }
  return count < LEAST_VOTES ? 0 : sum / count;
}

interface Looking {
  readonly witnesses: readonly Witness[];
  readonly scale: number;
  readonly limits: SecondLook;
}

/** The second look, frame by frame: a spot, or none. */
function looked({ x, y, probe, sigmas }: Candidate, { witnesses, scale, limits }: Looking): readonly DustSpot[] {
  const answers = witnesses.flatMap((witness): Answer[] => {
    if (!canBeLaid(witness.light, probe, x, y)) return [];
    const scatter = scatterAround(witness, probe, x, y);
    const darker = darkerAt(witness.light, probe, x, y);
    return scatter === null || Number.isNaN(darker) ? [] : [{ witness, darker, scatter }];
  });
  if (answers.length < LEAST_VOTES) return [];
  const depth = -medianOf(smoothest(answers).map(({ darker }) => darker));
  // In rough surroundings the spot cannot show, and that says nothing against it.
  const couldShow = answers.filter(({ scatter }) => depth >= SHOWS_FROM_SIGMAS * scatter);
  const asked = couldShow.length < LEAST_VOTES ? answers : couldShow;
  const voteFrom = limits.voteWithin - SIGMAS / Math.sqrt(answers.length);
  const votes = asked.filter(({ darker, scatter }) => darker / scatter <= voteFrom);
  if (votes.length < LEAST_VOTES || votes.length < limits.leastShareOfVotes * asked.length) return [];
  const clear = answers.filter(({ scatter }) => depth >= CLEAR_SIGMAS * scatter);
  const against = clear.filter(({ darker }) => darker > -SHOWN_SHARE * depth);
  const isDust =
    depth >= LEAST_DEPTH &&
    depth <= MOST_DEPTH &&
    against.length <= Math.max(Math.min(1, MOST_AGAINST_OF_FEW * clear.length), MOST_AGAINST * clear.length) &&
    isDarkerThanAllSides(votes, x, y, probe);
  if (!isDust) return [];
  const { width, height } = witnesses[0]!.light;
  const clearest = [...votes].sort((a, b) => a.darker / a.scatter - b.darker / b.scatter);
  return [
    {
      x: (x + 0.5) / width,
      y: (y + 0.5) / height,
      acrossPx: Math.round((2 * probe.half + 1) / SIDE_OF_SPOT / scale),
      darker: 1 - Math.exp(-depth),
      sigmas: -sigmas,
      frames: clearest.map(({ witness }) => witness.frame.frameId),
      judged: answers.length,
    },
  ];
}

/** Those that measure the depth best. */
const smoothest = (answers: readonly Answer[]): readonly Answer[] =>
  [...answers].sort((a, b) => a.scatter - b.scatter).slice(0, LEAST_VOTES);

const SIDES = 8;
const SIDE_SHARE = 0.15;

/** Taken over the frames: something long, a rope or a joint in the tarmac, is as dark on two sides. */
function isDarkerThanAllSides(votes: readonly Answer[], x: number, y: number, probe: Probe): boolean {
  const away = probe.outer;
  const depths = Array.from({ length: SIDES }, (_, side) => {
    const angle = (2 * Math.PI * side) / SIDES;
    const sx = x + Math.round(away * Math.cos(angle));
    const sy = y + Math.round(away * Math.sin(angle));
    const differences = votes.flatMap(({ witness: { light } }) =>
      isInside(light, sx, sy, probe.half)
        ? [lightAt(light, sx, sy, probe.half) - lightAt(light, x, y, probe.half)]
        : [],
    );
    return differences.length === 0 ? Number.NaN : medianOf(differences);
  }).filter((depth) => !Number.isNaN(depth));
  const middle = medianOf(depths);
  return middle > 0 && depths.every((depth) => depth > SIDE_SHARE * middle);
}

const isInside = ({ width, height }: LightSums, x: number, y: number, half: number): boolean =>
  x >= half && y >= half && x < width - half && y < height - half;
