/** A QR code on a phone, photographed: turned, aslant, out of focus, with glare, as a camera's JPEG. */
import sharp from 'sharp';
import { encode } from 'uqr';
import type { RgbImage } from '../../src/core/measure/index.js';

export interface CardScene {
  readonly text: string;
  /** The code's width as a share of the picture's, its white edge not counted. */
  readonly width: number;
  /** In the plane of the picture. */
  readonly turnedDeg: number;
  /** About the upright axis, away from the lens. */
  readonly aslantDeg: number;
  /** Of a Gaussian, in pixels of the measured picture. */
  readonly blurPx: number;
  /** 0 none; 1 the screen's black is as light as white in the middle of the glare. */
  readonly glare: number;
  readonly jpegQuality: number;
  /** Standard deviation of the sensor's noise in code values. */
  readonly noise: number;
}

const WIDTH = 1024;
const HEIGHT = 683;
/** Light of the drawn screen: black is never black in daylight. */
const DARK = 38;
const LIGHT = 225;
const QUIET = 4;
/** Samples in each direction of a pixel. */
const SAMPLES = 2;

export async function photographCard(scene: CardScene, random: () => number): Promise<RgbImage> {
  const grey = drawScene(scene, random);
  const sigma = scene.blurPx;
  const drawn = sharp(grey, { raw: { width: WIDTH, height: HEIGHT, channels: 1 } });
  const blurred = await (sigma >= 0.3 ? drawn.blur(sigma) : drawn).toColourspace('b-w').raw().toBuffer();
  for (let at = 0; at < blurred.length; at += 1)
    blurred[at] = Math.min(255, Math.max(0, blurred[at]! + scene.noise * gauss(random)));
  const jpeg = await sharp(blurred, { raw: { width: WIDTH, height: HEIGHT, channels: 1 } })
    .toColourspace('srgb')
    .jpeg({ quality: scene.jpegQuality })
    .toBuffer();
  const { data, info } = await sharp(jpeg).toColourspace('srgb').raw().toBuffer({ resolveWithObject: true });
  return { data: info.channels === 3 ? data : threefold(data), width: WIDTH, height: HEIGHT };
}

export const toJpeg = ({ data, width, height }: RgbImage, quality: number): Promise<Buffer> =>
  sharp(data, { raw: { width, height, channels: 3 } })
    .jpeg({ quality })
    .toBuffer();

const threefold = (grey: Uint8Array): Uint8Array =>
  Uint8Array.from({ length: 3 * grey.length }, (_, at) => grey[Math.floor(at / 3)]!);

const gauss = (random: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

function drawScene(scene: CardScene, random: () => number): Uint8Array {
  const modules = encode(scene.text, { ecc: 'M', border: 0 }).data;
  const side = scene.width * WIDTH;
  // The whole card is in the picture, wherever there is room for it.
  const room = Math.max(0, 1 - 2.3 * scene.width);
  const [centreX, centreY] = [0.5 + room * (random() - 0.5), 0.5 + 0.6 * room * (random() - 0.5)].map(
    (share, axis) => share * (axis === 0 ? WIDTH : HEIGHT),
  ) as [number, number];
  const toCard = cardPlane(scene, centreX, centreY, side);
  const [phase, slope] = [random() * 6, 30 + 40 * random()];
  const grey = new Uint8Array(WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y += 1)
    for (let x = 0; x < WIDTH; x += 1) {
      // Ground and a hand's breadth of light and shade behind the phone.
      const behind = 105 + slope * Math.sin(x / 90 + phase) * Math.cos(y / 70) + ((x * 7 + y * 13) % 11);
      if (Math.hypot(x - centreX, y - centreY) > side) {
        grey[y * WIDTH + x] = behind;
        continue;
      }
      let sum = 0;
      for (let sample = 0; sample < SAMPLES ** 2; sample += 1) {
        const [u, v] = toCard(
          x + ((sample % SAMPLES) + 0.5) / SAMPLES,
          y + (Math.floor(sample / SAMPLES) + 0.5) / SAMPLES,
        );
        sum += lightAt(modules, u, v) ?? behind;
      }
      const glare =
        scene.glare * Math.exp(-(((x - centreX - side / 4) ** 2 + (y - centreY) ** 2) / (2 * (side / 4) ** 2)));
      const light = sum / SAMPLES ** 2;
      grey[y * WIDTH + x] = Math.min(255, light + glare * (LIGHT - DARK));
    }
  return grey;
}

/** From the picture to the card: 0–1 over the code, by the inverse of turning, slanting and looking at it from three widths off. */
function cardPlane({ turnedDeg, aslantDeg }: CardScene, centreX: number, centreY: number, side: number) {
  const turn = (turnedDeg * Math.PI) / 180;
  const slant = (aslantDeg * Math.PI) / 180;
  const far = 3 * side;
  return (x: number, y: number): readonly [number, number] => {
    const [dx, dy] = [x - centreX, y - centreY];
    const across = dx * Math.cos(turn) + dy * Math.sin(turn);
    const down = dy * Math.cos(turn) - dx * Math.sin(turn);
    // A point u along the slanted card is seen at u·cos / (1 + u·sin / far).
    const u = across / (Math.cos(slant) - (across * Math.sin(slant)) / far);
    const v = down * (1 + (u * Math.sin(slant)) / far);
    return [u / side + 0.5, v / side + 0.5];
  };
}

/** Undefined beyond the card's white edge. */
function lightAt(modules: readonly (readonly boolean[])[], u: number, v: number): number | undefined {
  const size = modules.length;
  const [column, row] = [Math.floor(u * size), Math.floor(v * size)];
  if (Math.min(column, row) < -QUIET || Math.max(column, row) >= size + QUIET) return undefined;
  return modules[row]?.[column] === true ? DARK : LIGHT;
}
