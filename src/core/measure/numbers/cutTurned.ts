/** A turned rectangle of a picture at another size, as the planes a network takes. */
import type { RgbImage } from '../images.js';

export interface TurnedPart {
  /** Its middle, and the angle by which it is turned, clockwise, radians. */
  readonly x: number;
  readonly y: number;
  readonly angle: number;
  /** Picture pixels for one pixel of the result. */
  readonly scale: number;
}

/** From this shrinking on several samples are averaged a pixel, at most 4 × 4. */
const SHARP_SCALE = 1.4;
const MOST_SAMPLES = 4;

/** Bilinear; beyond the picture its edge goes on. @returns red, green and blue planes 0–255 */
export function cutTurned(image: RgbImage, part: TurnedPart, width: number, height: number): Float32Array {
  const { data } = image;
  const plane = width * height;
  const planes = new Float32Array(3 * plane);
  const cos = Math.cos(part.angle) * part.scale;
  const sin = Math.sin(part.angle) * part.scale;
  const samples = part.scale > SHARP_SCALE ? Math.min(MOST_SAMPLES, Math.ceil(part.scale)) : 1;
  const share = 1 / (samples * samples);
  const mostX = image.width - 1;
  const mostY = image.height - 1;
  for (let row = 0, to = 0; row < height; row += 1) {
    for (let column = 0; column < width; column += 1, to += 1) {
      for (let sample = 0; sample < samples * samples; sample += 1) {
        const u = column + ((sample % samples) + 0.5) / samples - width / 2;
        const v = row + (Math.floor(sample / samples) + 0.5) / samples - height / 2;
        const x = Math.min(mostX, Math.max(0, part.x + u * cos - v * sin - 0.5));
        const y = Math.min(mostY, Math.max(0, part.y + u * sin + v * cos - 0.5));
        const left = Math.floor(x);
        const top = Math.floor(y);
        const at = 3 * (top * image.width + left);
        const right = at + (left < mostX ? 3 : 0);
        const down = top < mostY ? 3 * image.width : 0;
        const w11 = (x - left) * (y - top) * share;
        const w10 = (x - left) * share - w11;
        const w01 = (y - top) * share - w11;
        const w00 = share - w10 - w01 - w11;
        for (let channel = 0; channel < 3; channel += 1)
          planes[channel * plane + to]! +=
            w00 * data[at + channel]! +
            w10 * data[right + channel]! +
            w01 * data[at + down + channel]! +
            w11 * data[right + down + channel]!;
      }
    }
  }
  return planes;
}
