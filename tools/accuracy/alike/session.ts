/**
 * A session under clouds that come and go: riders of one spot, each going by once in every light. The camera's exposure is the one that
 * was right for the light before, its meter and its white balance are a little off from frame to frame. Truth is what was asked of the
 * renderer: which surface every pixel shows, and the same bike in the reference light with nothing off.
 */
import type { BikeInShot, Shot, Visible } from '../../../demo/render/frame.js';
import { render } from '../../../demo/render/frame.js';
import { lightOf, type Sky } from '../../../demo/render/light.js';
import { randomFrom } from '../../../demo/render/noise.js';
import type { RgbImage } from '../../../src/core/measure/index.js';
import type { Box } from '../../../src/core/measure/types.js';
import { burstsOf } from '../judge/bursts.js';
import { LIGHTS } from '../lights.js';

/** As tall as a picture has to be for a bike to have some hundred cells of paint. */
const LONG_EDGE = 480;
const SUB_FRAMES = 3;
/** What a meter and an automatic white balance miss by, at most: stops. */
const METER_EV = 0.25;
const WHITE_EV = 0.14;
const SUN_DEG = 80;
const ELEVATION_DEG = 45;

type Named = keyof typeof LIGHTS;
interface Passing {
  readonly name: string;
  readonly sky: Sky;
  /** What the camera is set to when it is right for this light. */
  readonly exposureEv: number;
}

/** Two of the lights that colours are judged in, and one between them. */
const between = (one: Named, other: Named, share: number, name: string): Passing => {
  const of = (a: Sky['zenith'], b: Sky['zenith']): Sky['zenith'] => [
    a[0] + share * (b[0] - a[0]),
    a[1] + share * (b[1] - a[1]),
    a[2] + share * (b[2] - a[2]),
  ];
  const [from, to] = [LIGHTS[one], LIGHTS[other]];
  return {
    name,
    sky: {
      sunColour: of(from.sky.sunColour, to.sky.sunColour),
      zenith: of(from.sky.zenith, to.sky.zenith),
      horizon: of(from.sky.horizon, to.sky.horizon),
      cloud: from.sky.cloud + share * (to.sky.cloud - from.sky.cloud),
    },
    exposureEv: from.exposureEv + share * (to.exposureEv - from.exposureEv),
  };
};

const CLEAR = between('noon', 'overcast', 0, 'clear');
const PASSING: readonly Passing[] = [
  CLEAR,
  between('noon', 'overcast', 0.5, 'thin cloud'),
  between('noon', 'overcast', 1, 'overcast'),
  between('overcast', 'shade', 0.6, 'heavy cloud'),
  between('noon', 'overcast', 0.15, 'clear again'),
];

export interface Taken {
  readonly rider: string;
  readonly light: string;
  readonly isReference: boolean;
  readonly image: RgbImage;
  readonly box: Box;
  readonly visible: Visible;
}

/** Every rider in each light, the camera being off, and once in the reference light with nothing off. */
export function* sessionOf(seed: number, spot: number, riders: number): Generator<Taken> {
  const bursts = burstsOf(seed, 60)
    .filter((burst) => burst.spot === spot)
    .slice(0, riders);
  for (const { id, base } of bursts) {
    yield* taken(id, base, CLEAR, CLEAR.exposureEv, null);
    for (const [index, light] of PASSING.entries()) {
      const before = PASSING[Math.max(0, index - 1)]!;
      yield* taken(id, base, light, before.exposureEv, randomFrom(base.seed * 17 + index));
    }
  }
}

/** @param off by how much the camera and the rider are off; null for the reference */
function* taken(
  rider: string,
  base: Shot,
  light: Passing,
  exposureEv: number,
  off: ReturnType<typeof randomFrom> | null,
): Generator<Taken> {
  const white: readonly [number, number, number] = off
    ? [2 ** off.between(-WHITE_EV, WHITE_EV), 1, 2 ** off.between(-WHITE_EV, WHITE_EV)]
    : [1, 1, 1];
  const scale = LONG_EDGE / Math.max(base.width, base.height);
  const shot: Shot = {
    ...base,
    width: Math.round(base.width * scale),
    height: Math.round(base.height * scale),
    light: lightOf(tinted(light.sky, white), SUN_DEG, ELEVATION_DEG),
    exposureEv: exposureEv + (off ? off.between(-METER_EV, METER_EV) : 0),
    azimuthDeg: base.azimuthDeg + (off ? off.between(-1.5, 1.5) : 0),
    offX: base.offX + (off ? off.between(-0.02, 0.02) : 0),
    alongM: base.alongM + (off ? off.between(0, 20) : 0),
    bikes: base.bikes.map((bike: BikeInShot) => ({ ...bike, leanDeg: bike.leanDeg + (off ? off.between(-2, 2) : 0) })),
    seed: base.seed + (off ? 1 + PASSING.indexOf(light) : 0),
  };
  const { pixels, boxes, visible } = render(shot, { withVisible: true, subFrames: SUB_FRAMES });
  const [box, shown] = [boxes[0], visible?.[0]];
  if (!box || !shown) return;
  const image = { data: pixels, width: shot.width, height: shot.height };
  yield { rider, light: light.name, isReference: off === null, image, box, visible: shown };
}

/** The camera's white balance is off: all light is as if tinted. */
function tinted(sky: Sky, white: readonly [number, number, number]): Sky {
  const of = (light: Sky['zenith']): Sky['zenith'] => [light[0] * white[0], light[1] * white[1], light[2] * white[2]];
  return { ...sky, sunColour: of(sky.sunColour), zenith: of(sky.zenith), horizon: of(sky.horizon) };
}
