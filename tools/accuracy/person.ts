/**
 * A simulated person at the questions: answers screen after screen in the words of the log, and the day is arranged again
 * after each. Two answers in a hundred are wrong in one of their judgements; of two bikes of one main colour the person
 * cannot tell in five of a hundred. Both shares are assumed, no source.
 */
import type { SyntheticDay } from '../../demo/simulated-day/index.js';
import { foldedOf } from '../../demo/simulated-day/index.js';
import { arrangeAgain } from '../../src/core/arrange/index.js';
import type { ArrangeInput, Arrangement, BikeRef } from '../../src/core/arrange/types.js';
import { type Screen, screensOf } from '../../src/core/ask/index.js';
import type { FrameId, RiderKey } from '../../src/core/ids.js';
import type { BikePoint, Decision } from '../../src/core/log/types.js';
import type { Subject } from '../../src/core/measure/types.js';
import { type Random, seededRandom } from '../../src/core/numeric/random.js';

const WRONG_SHARE = 0.02;
const CANNOT_TELL_SHARE = 0.05;
export const SCREENS = 40;

/** What the person sees: whose bike it really is, null where it is no rider's, undefined where nothing can be made out. */
export interface Eye {
  riderOf(bike: BikeRef): string | null | undefined;
}

export interface Answered {
  readonly arrangement: Arrangement;
  readonly decisions: readonly Decision[];
  readonly asked: readonly Screen[];
}

/** Of the program's screens those about riders; clocks and borders have their own figures. */
export function answerScreens(input: ArrangeInput, eye: Eye, seed: number, count = SCREENS): Answered {
  const random = seededRandom(seed * 2741 + 13);
  const decisions: Decision[] = [];
  const asked: Screen[] = [];
  let { arrangement, memory } = arrangeAgain(input, null);
  while (asked.length < count) {
    const log = foldedOf(decisions);
    const screen = screensOf({ arrangement, pixels: input.pixels, log }).find(({ kind }) => kind !== 'plain');
    if (screen === undefined) break;
    asked.push(screen);
    decisions.push(...answerOf(screen, { arrangement, input, eye, random }));
    ({ arrangement, memory } = arrangeAgain({ ...input, log: foldedOf(decisions) }, memory));
  }
  return { arrangement, decisions, asked };
}

/** Boxes of simulated days are exact: a subject that begins where a true bike does is that bike. */
export function eyeOf({ input, truth }: SyntheticDay): Eye {
  const bikes = new Map(truth.exposures.map(({ frameId, bikes: own }) => [frameId, own]));
  return {
    riderOf: ({ frameId, subject }) => {
      const left = subjectAt(input, frameId, subject)?.box[0];
      return bikes.get(frameId)?.find(({ box }) => box[0] === left)?.rider ?? null;
    },
  };
}

interface Asked {
  readonly arrangement: Arrangement;
  readonly input: ArrangeInput;
  readonly eye: Eye;
  readonly random: Random;
}

function answerOf(screen: Screen, asked: Asked): readonly Decision[] {
  const { arrangement } = asked;
  const face = (rider: RiderKey): BikeRef => arrangement.riders.find(({ key }) => key === rider)!.face;
  const middle = (index: number): BikeRef => {
    const { bikes } = arrangement.passes[index]!;
    return bikes[Math.floor(bikes.length / 2)]!;
  };
  switch (screen.kind) {
    case 'line-up':
      return [
        lineUp(
          face(screen.of),
          screen.shown.map(({ rider }) => face(rider)),
          asked,
        ),
      ];
    case 'whose-pass':
      return [lineUp(middle(screen.pass), screen.riders.map(face), asked)];
    case 'odd-one-out': {
      const [of, ...others] = screen.rest.map(middle);
      const shown = screen.passes.map(middle);
      const line = lineUp(of!, shown, asked);
      const goes = shown.filter((_, i) => !line.chosen.includes(i) && !line.unsure.includes(i));
      const point = (bike: BikeRef): BikePoint => pointAt(bike, asked.input);
      return [
        line,
        ...goes.flatMap((bike) =>
          others.map((other): Decision => ({ kind: 'different-riders', points: [point(bike), point(other)] })),
        ),
      ];
    }
    case 'plain':
      return [];
  }
}

type LineUp = Extract<Decision, { kind: 'line-up' }>;

function lineUp(of: BikeRef, shown: readonly BikeRef[], { input, eye, random }: Asked): LineUp {
  const own = eye.riderOf(of);
  const turned = random.chance(WRONG_SHARE) ? random.integer(0, shown.length - 1) : -1;
  const chosen: number[] = [];
  const unsure: number[] = [];
  shown.forEach((bike, i) => {
    const isSame = own !== null && eye.riderOf(bike) === own;
    const isBlind = own === undefined || eye.riderOf(bike) === undefined;
    if (isBlind || (areAlike(of, bike, input) && random.chance(CANNOT_TELL_SHARE))) unsure.push(i);
    else if (isSame !== (i === turned)) chosen.push(i);
  });
  const point = (bike: BikeRef): BikePoint => pointAt(bike, input);
  return { kind: 'line-up', of: point(of), shown: shown.map(point), chosen, unsure };
}

const subjectAt = (input: ArrangeInput, frameId: FrameId, subject: number): Subject | undefined => {
  const frame = input.pixels.get(frameId);
  return frame?.kind === 'measured' ? frame.subjects[subject] : undefined;
};

const areAlike = (a: BikeRef, b: BikeRef, input: ArrangeInput): boolean => {
  const colourOf = ({ frameId, subject }: BikeRef) => subjectAt(input, frameId, subject)?.bikeColours[0]?.name;
  return colourOf(a) !== undefined && colourOf(a) === colourOf(b);
};

const files = new WeakMap<ArrangeInput['files'], ReadonlyMap<FrameId, BikePoint['file']>>();

function pointAt({ frameId, subject }: BikeRef, input: ArrangeInput): BikePoint {
  let fileOf = files.get(input.files);
  if (fileOf === undefined) {
    fileOf = new Map(input.files.map(({ fileId, metadata }) => [metadata.frameId, fileId]));
    files.set(input.files, fileOf);
  }
  const box = subjectAt(input, frameId, subject)!.box;
  return { file: fileOf.get(frameId)!, x: box[0] + box[2] / 2, y: box[1] + box[3] / 2, box };
}
