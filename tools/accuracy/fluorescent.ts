/**
 * Fluorescent paint against ordinary of the same hue on rendered riders: what is said after a day of noon, evening, overcast and
 * shade, a session in each. Half of what meets the paint is white, the rest silver, grey or black, which must not mislead.
 * The limits come from standards; only what passes for white was set on renders, of the tuning seeds.
 */
import { type Exposure, photographTheDay } from '../../demo/day/photograph.js';
import { shotOf } from '../../demo/day/shots.js';
import { render } from '../../demo/render/frame.js';
import { lightOf } from '../../demo/render/light.js';
import type { Livery } from '../../demo/render/livery.js';
import { type Random, randomFrom } from '../../demo/render/noise.js';
import {
  fluorescentHueOn,
  type SeenInSession,
  whitesOf,
  withFluorescent,
} from '../../src/core/arrange/riders/fluorescentPaint.js';
import { poolColours } from '../../src/core/arrange/riders/livery.js';
import type { FrameId } from '../../src/core/ids.js';
import { ordinaryOf } from '../../src/core/measure/index.js';
import type { ColourName, Subject } from '../../src/core/measure/types.js';
import { measureImage, type Vision } from '../../src/host/vision/index.js';
import { confusionRows, type Said } from './confusion.js';
import { LIGHTS, SUN_DEG } from './lights.js';
import { SEEDS } from './seeds.js';

const FLUORESCENT = ['fluorescent yellow', 'fluorescent orange', 'fluorescent red'] as const;
const PAINTS: readonly ColourName[] = [...FLUORESCENT, ...FLUORESCENT, 'yellow', 'lime', 'orange', 'red'];
const BESIDE: readonly ColourName[] = ['white', 'white', 'silver', 'grey', 'black'];
/** Riders of a day, and pictures of each in every light. */
const RIDERS = 20;
const PICTURES = 2;
const SUB_FRAMES = 2;

type OneRider = Pick<Livery, 'base' | 'accent' | 'suit' | 'suitAccent'> & {
  readonly seen: readonly (SeenInSession & { subject: Subject })[];
};

function inventLivery(random: Random, paint: ColourName, own: Livery): Livery {
  const beside = random.oneOf(BESIDE);
  return {
    ...own,
    base: paint,
    accent: beside,
    line: beside,
    pattern: random.oneOf(['sweep', 'bands', 'split', 'stripe', 'lowerHalf', 'flames']),
    suit: random.oneOf(PAINTS),
    suitAccent: random.oneOf(BESIDE),
    suitPattern: random.oneOf(['hoops', 'sides', 'yoke', 'legs']),
    helmet: 'black',
    helmetAccent: 'white',
  };
}

async function photographed(
  vision: Vision,
  random: Random,
  paint: ColourName,
  alone: readonly Exposure[],
): Promise<OneRider> {
  const { livery: own, truth } = random.oneOf(alone).riders[0]!;
  const exposures = alone.filter(({ riders }) => riders[0]!.truth.key === truth.key);
  const livery = inventLivery(random, paint, own);
  const seen: (SeenInSession & { subject: Subject })[] = [];
  for (const [session, { sky, elevationDeg, exposureEv }] of Object.values(LIGHTS).entries())
    for (let picture = 0; picture < PICTURES; picture += 1) {
      const base = shotOf(random.oneOf(exposures));
      const { pixels } = render(
        {
          ...base,
          light: lightOf(sky, random.oneOf(SUN_DEG), elevationDeg),
          exposureEv: exposureEv + random.between(-0.7, 0.2),
          bikes: [{ ...base.bikes[0]!, livery }],
        },
        { subFrames: SUB_FRAMES },
      );
      const image = { data: pixels, width: base.width, height: base.height };
      const facts = { frameId: '0'.repeat(32) as FrameId, source: 'shrink-on-load', tier: 'preview' } as const;
      const { subjects } = await measureImage(vision, image, facts);
      const subject = subjects.find(({ isMain, what }) => isMain && what === 'motorcycle');
      if (subject) seen.push({ subject, session });
    }
  return { ...livery, seen };
}

interface Pair extends Said {
  readonly beside: ColourName;
}

function said(
  { base, accent, suit, suitAccent, seen }: OneRider,
  whites: ReadonlyMap<number, number>,
): readonly Pair[] {
  return (['bike', 'rider'] as const).map((part) => {
    const colours = poolColours(
      seen.map(({ subject }) => (part === 'bike' ? subject.bikeColours : subject.riderColours)),
    );
    const [first] = withFluorescent(colours, fluorescentHueOn(part, seen, whites));
    const [meant, beside] = part === 'bike' ? [base, accent] : [suit, suitAccent];
    return { meant, beside, said: first?.name ?? null };
  });
}

export async function fluorescentRows(vision: Vision): Promise<readonly string[]> {
  const alone = photographTheDay().filter(({ riders, blur }) => riders.length === 1 && blur === 'sharp');
  const pairs: Pair[] = [];
  for (const seed of SEEDS.fluorescent) {
    const random = randomFrom(seed);
    const riders: OneRider[] = [];
    for (let rider = 0; rider < RIDERS; rider += 1)
      riders.push(await photographed(vision, random, PAINTS[rider % PAINTS.length]!, alone));
    const whites = whitesOf(riders.flatMap(({ seen }) => seen));
    pairs.push(...riders.flatMap((rider) => said(rider, whites)));
  }
  const isFluorescent = (name: ColourName | null) => name !== null && ordinaryOf(name) !== null;
  const bright = pairs.filter(({ meant }) => isFluorescent(meant));
  const told = bright.filter((pair) => pair.said === pair.meant);
  const besideWhite = bright.filter(({ beside }) => beside === 'white');
  const ordinary = pairs.filter(({ meant }) => !isFluorescent(meant));
  const wrong = ordinary.filter((pair) => isFluorescent(pair.said));
  return [
    `fluorescent paint of bikes and leathers, ${PICTURES} pictures in each light: told ${told.length} of ${bright.length} (${told.filter(({ beside }) => beside === 'white').length} of the ${besideWhite.length} beside white), another fluorescent hue said of ${bright.filter((pair) => isFluorescent(pair.said)).length - told.length}; ordinary paint called so ${wrong.length} of ${ordinary.length}`,
    ...confusionRows(pairs).map((row) => `  ${row}`),
  ];
}
