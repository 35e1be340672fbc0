/**
 * Colours on rendered riders in four lights: the invented meeting's field, each rider once in each light, seen as on the
 * day. Meant is the paint that covers most of the bodywork that can be seen, and whatever covers at least three quarters
 * as much; of leathers and helmet likewise.
 */

import { FIELD } from '../../demo/day/field.js';
import { type Exposure, photographTheDay } from '../../demo/day/photograph.js';
import { shotOf } from '../../demo/day/shots.js';
import { PAINTS } from '../../demo/render/colours.js';
import { render, type Shot, type Visible } from '../../demo/render/frame.js';
import { lightOf } from '../../demo/render/light.js';
import { PART } from '../../demo/render/parts.js';
import { mainColoursOf, poolColours } from '../../src/core/arrange/riders/livery.js';
import type { FrameId } from '../../src/core/ids.js';
import type { ColourName, ColourShare, Subject } from '../../src/core/measure/types.js';
import { measureImage, openVision, type Vision } from '../../src/host/vision/index.js';
import { confusionRows, type Said } from './confusion.js';
import { fluorescentRows } from './fluorescent.js';
import { type ColourVerdict, judgeColour } from './labels.js';
import { LIGHTS, type LightName, SUN_DEG } from './lights.js';

export interface RenderedRider {
  readonly light: LightName;
  readonly rider: string;
  readonly image: { readonly data: Uint8Array; readonly width: number; readonly height: number };
  readonly bike: readonly ColourName[];
  readonly leathers: readonly ColourName[];
  readonly helmet: readonly ColourName[];
  readonly visible: Visible;
}

/** Fewer moments of the exposure are quicker to draw, and as good for colours. */
const SUB_FRAMES = 4;

function oncePerRider(): readonly Exposure[] {
  const alone = photographTheDay().filter(({ riders, blur }) => riders.length === 1 && blur === 'sharp');
  return FIELD.flatMap(({ truth }, index) => {
    const own = alone.filter(({ riders }) => riders[0]!.truth.key === truth.key);
    return own.length === 0 ? [] : [own[(index * 5) % own.length]!];
  });
}

/** One after another: a hundred pictures would be a lot to hold. */
export function* renderedRiders(): Generator<RenderedRider> {
  for (const [index, exposure] of oncePerRider().entries())
    for (const [name, { sky, elevationDeg, exposureEv }] of Object.entries(LIGHTS)) {
      const sun = SUN_DEG[index % SUN_DEG.length]!;
      const shot: Shot = { ...shotOf(exposure), light: lightOf(sky, sun, elevationDeg), exposureEv };
      const { pixels, visible } = render(shot, { withVisible: true, subFrames: SUB_FRAMES });
      const shown = visible?.[0];
      if (!shown) continue;
      yield {
        light: name as LightName,
        rider: exposure.riders[0]!.truth.key,
        image: { data: pixels, width: shot.width, height: shot.height },
        bike: mostOf(shown, (part) => part <= PART.mudguard),
        leathers: mostOf(shown, (part) => part === PART.suit),
        helmet: mostOf(shown, (part) => part === PART.helmet),
        visible: shown,
      };
    }
}

/** Two paints, as square roots in bytes, differ by less than this over three channels where they are the same. */
const SAME_PAINT = 14;
const LEAST_OF_MOST = 0.75;

/** The paints on the wanted parts that cover most. */
function mostOf({ whole, surfaces }: Visible, isWanted: (part: number) => boolean): readonly ColourName[] {
  const paints = Object.entries(PAINTS).map(([name, linear]) => ({
    name: name as ColourName,
    bytes: linear.map((value) => Math.round(255 * Math.sqrt(value))),
  }));
  const counts = new Map<ColourName, number>();
  for (let index = 0; index < surfaces.part.length; index += 1) {
    const part = surfaces.part[index]! - 1;
    if (part < 0 || !isWanted(part) || whole[index]! < 0.5) continue;
    const own = surfaces.paint.map((plane) => plane[index]!);
    const paint = paints.find(
      ({ bytes }) => bytes.reduce((sum, byte, channel) => sum + Math.abs(byte - own[channel]!), 0) < SAME_PAINT,
    );
    if (paint) counts.set(paint.name, (counts.get(paint.name) ?? 0) + 1);
  }
  const most = Math.max(0, ...counts.values());
  return [...counts]
    .filter(([, count]) => count >= LEAST_OF_MOST * most)
    .sort((a, b) => b[1] - a[1])
    .map(([name]) => name);
}

interface Judged {
  readonly light: LightName;
  readonly rider: string;
  /** All the colours that are right. */
  readonly meant: readonly ColourName[];
  readonly bikeColours: readonly ColourShare[];
  /** Right in the first or the second colour that is said. */
  readonly isAmongTwo: boolean;
  readonly bike: Said & { readonly verdict: ColourVerdict };
  readonly leathers: ColourVerdict | null;
  readonly helmet: ColourVerdict | null;
}

async function judge(
  vision: Vision,
  { light, rider, image, bike, leathers, helmet }: RenderedRider,
): Promise<Judged | null> {
  const frame = await measureImage(vision, image, {
    frameId: '0'.repeat(32) as FrameId,
    source: 'shrink-on-load',
    tier: 'preview',
  });
  const main = frame.subjects.find(({ isMain, what }: Subject) => isMain && what === 'motorcycle');
  if (bike.length === 0) return null;
  const both = mainColoursOf(main?.bikeColours ?? []);
  const said = both[0] ?? null;
  const worn = main?.riderColours[0]?.name ?? null;
  const onHead = main?.helmetColours?.[0]?.name ?? null;
  return {
    light,
    rider,
    meant: bike,
    bikeColours: main?.bikeColours ?? [],
    isAmongTwo: both.some((name) => bike.includes(name)),
    bike: { meant: said !== null && bike.includes(said) ? said : bike[0]!, said, verdict: judgeColour(said, bike) },
    leathers: leathers.length === 0 ? null : judgeColour(worn, leathers),
    helmet: helmet.length === 0 ? null : judgeColour(onHead, helmet),
  };
}

function shareRow(title: string, verdicts: readonly ColourVerdict[]): string {
  const right = verdicts.filter((verdict) => verdict === 'right').length;
  const near = verdicts.filter((verdict) => verdict !== 'wrong').length;
  const percent = (count: number) =>
    `${count} of ${verdicts.length} (${((100 * count) / verdicts.length).toFixed(1)} %)`;
  return `${title}: right ${percent(right)}, right or neighbour ${percent(near)}`;
}

const NEUTRAL: ReadonlySet<ColourName> = new Set(['black', 'grey', 'silver', 'white']);

/** What most misses have in common: the paint that covers most has no hue, and the trim that is said has one. */
const isTrimSaid = ({ meant, bike: { said, verdict } }: Judged): boolean =>
  verdict === 'wrong' && said !== null && !NEUTRAL.has(said) && meant.every((name) => NEUTRAL.has(name));

/** As on a day, all pictures of a rider pooled: what counts as meant is what covers most in half of them. */
function pooledVerdicts(judged: readonly Judged[]): readonly ColourVerdict[] {
  const riders = [...new Set(judged.map(({ rider }) => rider))].map((rider) =>
    judged.filter((one) => one.rider === rider),
  );
  return riders.map((pictures) => {
    const [said] = mainColoursOf(poolColours(pictures.map(({ bikeColours }) => bikeColours)));
    const names = [...new Set(pictures.flatMap(({ meant }) => meant))];
    const meant = names.filter(
      (name) => 2 * pictures.filter((one) => one.meant.includes(name)).length >= pictures.length,
    );
    return judgeColour(said ?? null, meant);
  });
}

export async function renderedColoursAccuracy(): Promise<{ readonly rows: readonly string[] }> {
  const vision = await openVision();
  const judged: Judged[] = [];
  let fluorescent: readonly string[] = [];
  try {
    for (const rider of renderedRiders()) {
      const one = await judge(vision, rider);
      if (one) judged.push(one);
    }
    fluorescent = await fluorescentRows(vision);
  } finally {
    await vision.close();
  }
  const rows = Object.keys(LIGHTS).flatMap((name) => {
    const own = judged.filter(({ light }) => light === name);
    return [
      shareRow(
        `${name}, main colour`,
        own.map(({ bike }) => bike.verdict),
      ),
      shareRow(
        `${name}, leathers`,
        own.flatMap((one) => one.leathers ?? []),
      ),
      shareRow(
        `${name}, helmet`,
        own.flatMap((one) => one.helmet ?? []),
      ),
    ];
  });
  const all = shareRow(
    'all four lights, main colour',
    judged.map(({ bike }) => bike.verdict),
  );
  const amongTwo = judged.filter(({ isAmongTwo }) => isAmongTwo).length;
  return {
    rows: [
      ...rows,
      all,
      `  right among the one or two that are said: ${amongTwo} of ${judged.length}`,
      `  neither right nor a neighbour: ${judged.filter(({ bike }) => bike.verdict === 'wrong').length}; of these a coloured trim said of a bike without hue: ${judged.filter(isTrimSaid).length}`,
      shareRow('  the pictures of each rider in all lights pooled', pooledVerdicts(judged)),
      ...confusionRows(judged.map(({ bike }) => bike)).map((row) => `  ${row}`),
      ...fluorescent,
    ],
  };
}
