/** The scales of the finish sheet: what each moves, how far, and how it is said. */
import type { Finish } from '../../core/log/finishSaid.js';
import { HUES } from '../../core/log/finishSaid.js';
import type { FinishView, FrameTickView } from '../../server/finish/types.js';

export interface Scale {
  readonly name: string;
  readonly what: string;
  readonly least: number;
  readonly most: number;
  /** One press of an arrow. */
  readonly step: number;
  readonly ends: readonly [string, string];
  readonly valueOf: (finish: Finish) => number;
  readonly withValue: (finish: Finish, value: number) => Finish;
  readonly words: (value: number) => string;
  /** Where the frames lie on it; null where nothing of a frame is measured on this scale. */
  readonly tickOf: ((tick: FrameTickView) => number) | null;
}

/** Of what comes out as nothing no sign is written. */
export function signedWords(value: number, digits = 2): string {
  const figure = Math.abs(value).toFixed(digits);
  if (Number(figure) === 0) return '0';
  return `${value > 0 ? '+' : '−'}${figure}`;
}
const stops = (value: number): string =>
  Math.abs(value) < 0.005 ? 'as the middle one' : `${signedWords(value)} stops`;
const share = (value: number): string => (value === 0 ? 'none' : `${Math.round(100 * value)} of 100`);
const times = (value: number): string => (value === 1 ? 'as it is' : `${value.toFixed(2)} times`);

export const SCALES: readonly Scale[] = [
  {
    name: 'Tarmac',
    what: 'As bright in every frame of a spot. Each tick is a frame; the mark is where all are brought.',
    least: -2,
    most: 2,
    step: 0.05,
    ends: ['darker', 'brighter'],
    valueOf: ({ exposureEv }) => exposureEv,
    withValue: (finish, exposureEv) => ({ ...finish, exposureEv }),
    words: stops,
    tickOf: ({ brighter }) => brighter,
  },
  {
    name: 'White',
    what: 'Tarmac is as grey in every frame of a spot; the mark makes all of them warmer or cooler.',
    least: -0.8,
    most: 0.8,
    step: 0.02,
    ends: ['cooler', 'warmer'],
    valueOf: ({ warmth }) => warmth,
    withValue: (finish, warmth) => ({ ...finish, warmth }),
    words: (value) => (Math.abs(value) < 0.005 ? 'grey' : `${signedWords(value)} stops of red over blue`),
    tickOf: ({ warmer }) => warmer,
  },
  {
    name: 'Shade',
    what: 'Lifts the shaded side. The deepest shadows stay.',
    least: 0,
    most: 1,
    step: 0.05,
    ends: ['as it is', 'a stop'],
    valueOf: ({ tones }) => tones.shade,
    withValue: (finish, shade) => ({ ...finish, tones: { ...finish.tones, shade } }),
    words: (value) => (value === 0 ? 'as it is' : `${value.toFixed(2)} stops`),
    tickOf: null,
  },
  {
    name: 'Bright parts',
    what: 'Holds them down. What is burnt stays white.',
    least: 0,
    most: 0.5,
    step: 0.05,
    ends: ['as they are', 'half a stop'],
    valueOf: ({ tones }) => tones.brightParts,
    withValue: (finish, brightParts) => ({ ...finish, tones: { ...finish.tones, brightParts } }),
    words: (value) => (value === 0 ? 'as they are' : `${value.toFixed(2)} stops`),
    tickOf: null,
  },
  {
    name: 'Contrast',
    what: 'About middle grey.',
    least: 0.8,
    most: 1.4,
    step: 0.02,
    ends: ['softer', 'harder'],
    valueOf: ({ tones }) => tones.contrast,
    withValue: (finish, contrast) => ({ ...finish, tones: { ...finish.tones, contrast } }),
    words: times,
    tickOf: null,
  },
  {
    name: 'Colour',
    what: 'Paint and leathers, grass by itself.',
    least: 0.6,
    most: 1.4,
    step: 0.02,
    ends: ['paler', 'stronger'],
    valueOf: ({ strengths }) => strengths.red,
    withValue: (finish, value) => ({
      ...finish,
      strengths: {
        ...(Object.fromEntries(HUES.map((hue) => [hue, value])) as unknown as Finish['strengths']),
        green: finish.strengths.green,
      },
    }),
    words: times,
    tickOf: null,
  },
  {
    name: 'Grass',
    what: 'Green alone.',
    least: 0.4,
    most: 1.4,
    step: 0.02,
    ends: ['paler', 'stronger'],
    valueOf: ({ strengths }) => strengths.green,
    withValue: (finish, green) => ({ ...finish, strengths: { ...finish.strengths, green } }),
    words: times,
    tickOf: null,
  },
  {
    name: 'Edges',
    what: 'Sharpened for the size the picture is made in. Even parts are left alone.',
    least: 0,
    most: 1,
    step: 0.05,
    ends: ['as they are', 'sharp'],
    valueOf: ({ sharpness }) => sharpness,
    withValue: (finish, sharpness) => ({ ...finish, sharpness }),
    words: share,
    tickOf: null,
  },
  {
    name: 'Grain',
    what: 'Goes where there is only grain.',
    least: 0,
    most: 1,
    step: 0.05,
    ends: ['stays', 'goes'],
    valueOf: ({ grain }) => grain,
    withValue: (finish, grain) => ({ ...finish, grain }),
    words: share,
    tickOf: null,
  },
];

export const placeOn = ({ least, most }: Scale, value: number): number =>
  (100 * (Math.min(most, Math.max(least, value)) - least)) / (most - least);

/** To the nearest step, so that the same place is the same figure. */
export const valueAt = (scale: Scale, percent: number): number =>
  stepped(scale, scale.least + (percent / 100) * (scale.most - scale.least));

export const moved = (scale: Scale, value: number, steps: number): number => stepped(scale, value + steps * scale.step);

function stepped({ least, most, step }: Scale, value: number): number {
  const held = Math.min(most, Math.max(least, value));
  return Math.round(Math.round(held / step) * step * 1000) / 1000;
}

export const isSame = (one: Finish, other: Finish): boolean => JSON.stringify(one) === JSON.stringify(other);

/** How things stand, in a sentence. */
export function standingWords({ keepers, seen, spots, isSaid }: FinishView): string {
  if (keepers === 0) return 'No rider has a keeper yet. Frames kept apart have a finish of their own.';
  const count = (frames: number): string => frames.toLocaleString('en-GB');
  const from = `${keepers === 1 ? 'One keeper' : `${count(keepers)} keepers`} from ${spots.length === 1 ? 'one spot' : `${spots.length} spots`}`;
  const borrowed = seen.neighbours > 0 ? `, borrowed from the neighbours on ${count(seen.neighbours)}` : '';
  const unknown = seen.nothing > 0 ? `; of ${count(seen.nothing)} nothing is known, and they stay as they are` : '';
  const ground = `Tarmac was found on ${count(seen.own)}${borrowed}${unknown}.`;
  return `${from}, made to look like one day. ${ground}${isSaid ? '' : ' Nobody has taken this finish yet: pictures stay as they were taken.'}`;
}
