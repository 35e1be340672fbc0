/**
 * Frames of invented bursts, each with one thing done to it whose amount is known: the truth of `judge.agreement` is what was
 * asked of the renderer. All frames of a burst stand a little apart otherwise, as frames of a burst do.
 */
import { largeMeeting } from '../../../demo/large/day.js';
import { largeShot } from '../../../demo/large/shots.js';
import { LARGE_SPOTS } from '../../../demo/large/spots.js';
import type { BikeInShot, Shot } from '../../../demo/render/frame.js';
import { randomFrom } from '../../../demo/render/noise.js';
import type { Box } from '../../../src/core/measure/types.js';

export const CHANGES = [
  'none',
  'soft1',
  'soft2',
  'moved1',
  'moved2',
  'cut1',
  'cut2',
  'post1',
  'post2',
  'marshal',
  'other1',
  'other2',
  'bright1',
  'bright2',
  'small1',
  'turned',
] as const;
export type Change = (typeof CHANGES)[number];

/** Sigma of a missed focus, pixels of a picture 600 wide; the bike is about 330 long in it. */
const SOFT_PX = { soft1: 0.6, soft2: 0.95 } as const;
/** Way of a missed pan during the exposure, pixels along and across. */
const MOVED_PX = { moved1: [2.2, 0.5], moved2: [3.6, 0.9] } as const;
/** Share of the bike's length that lies beyond the picture's edge. */
const CUT = { cut1: 0.03, cut2: 0.09 } as const;
/** Width of a post in front of the bike, of its length. */
const POST = { post1: 0.05, post2: 0.09 } as const;
const MARSHAL = 0.22;
/** How far a nearer bike reaches over this one, of its width seen. */
const OVERLAP = { other1: 0.4, other2: 0.6 } as const;
/** Overexposure, stops. */
const BRIGHT_EV = { bright1: 0.8, bright2: 1.3 } as const;
const SMALLER = 0.9;

export interface Burst {
  readonly id: string;
  readonly spot: number;
  readonly base: Shot;
}

/** `count` bursts, spot after spot, of a seeded meeting: one bike alone in each. */
export function burstsOf(seed: number, count: number): readonly Burst[] {
  const meeting = largeMeeting(seed);
  const alone = meeting.shots
    .map(({ shot }, at) => ({ shot, at }))
    .filter(({ shot }) => shot.bikes.length === 1)
    .map(({ shot, at }) => ({ spot: shot.spot, at, base: largeShot(meeting, shot, at) }));
  const random = randomFrom(seed * 77 + 5);
  return Array.from({ length: count }, (_, index) => {
    const spot = index % LARGE_SPOTS.length;
    const { at, base } = random.oneOf(alone.filter((one) => one.spot === spot));
    return { id: `${seed}-${at}`, spot, base: { ...base, defocusPx: 0, shakePx: [0, 0] } };
  });
}

/** Which of the two is nearer to the camera coming towards it. */
export const comesTowards = ({ azimuthDeg }: Shot): boolean => Math.abs(azimuthDeg) < 90;
/** Turning round says something only where the bike is not seen from its side. */
export const canTurn = ({ azimuthDeg }: Shot): boolean => Math.abs(Math.abs(azimuthDeg) - 90) > 25;

/** @param box of the bike in the unchanged frame */
export function frameOf({ base }: Burst, change: Change, box: Box): Shot {
  const at = CHANGES.indexOf(change);
  const random = randomFrom(base.seed * 31 + at);
  const stirred: Shot = {
    ...base,
    seed: base.seed + 7 * at,
    azimuthDeg: base.azimuthDeg + random.between(-1.2, 1.2),
    fill: base.fill * random.between(0.99, 1.01),
    offX: base.offX + random.between(-0.012, 0.012),
    offY: base.offY + random.between(-0.01, 0.01),
    alongM: base.alongM + at * 1.3,
    exposureEv: base.exposureEv + random.between(-0.04, 0.04),
  };
  switch (change) {
    case 'none':
      return base;
    case 'soft1':
    case 'soft2':
      return { ...stirred, softSigmaPx: SOFT_PX[change] };
    case 'moved1':
    case 'moved2':
      return { ...stirred, shakePx: MOVED_PX[change] };
    case 'cut1':
    case 'cut2':
      return { ...base, seed: stirred.seed, offX: base.offX + beyondEdge(box, CUT[change], at + base.seed) };
    case 'post1':
    case 'post2': {
      const x = box[0] + box[2] * (base.seed % 2 === 0 ? 0.2 : 0.75);
      return { ...stirred, inFront: { what: 'post', x, across: POST[change] * box[2], top: -0.1, softPx: 3 } };
    }
    case 'marshal': {
      const inFront = { what: 'marshal', x: box[0] + 0.8 * box[2], across: MARSHAL * box[2], softPx: 3 } as const;
      return { ...stirred, inFront: { ...inFront, top: box[1] + 0.2 * box[3] } };
    }
    case 'other1':
    case 'other2':
      return { ...stirred, bikes: [...base.bikes, nearer(base, OVERLAP[change])] };
    case 'bright1':
    case 'bright2':
      return { ...stirred, exposureEv: base.exposureEv + BRIGHT_EV[change] };
    case 'small1':
      return { ...stirred, fill: base.fill * SMALLER };
    case 'turned':
      return { ...stirred, azimuthDeg: Math.sign(base.azimuthDeg) * (180 - Math.abs(base.azimuthDeg)) };
  }
}

/** How far the bike moves for so much of it to lie outside, on the left or on the right. */
const beyondEdge = ([left, , width]: Box, share: number, seed: number): number =>
  seed % 2 === 0 ? -(left + share * width) : 1 - (left + width) + share * width;

const METRES_NEARER = 1.8;
const LENGTH_M = 2.05;
const BREADTH_M = 0.7;

/** A bike between camera and subject, beside it as far as the overlap says; in other paint. */
function nearer({ azimuthDeg, bikes }: Shot, overlap: number): BikeInShot {
  const lead = bikes[0]!;
  const a = (azimuthDeg * Math.PI) / 180;
  const seenWidth = LENGTH_M * Math.abs(Math.sin(a)) + BREADTH_M * Math.abs(Math.cos(a));
  const aside = seenWidth * (1 - overlap);
  const { base, accent } = lead.livery;
  return {
    ...lead,
    livery: { ...lead.livery, base: accent, accent: base, number: null },
    ahead: METRES_NEARER * Math.cos(a) - aside * Math.sin(a),
    aside: lead.aside + METRES_NEARER * Math.sin(a) + aside * Math.cos(a),
  };
}
