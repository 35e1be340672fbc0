/** A film of one still picture with a QR code, as browsers take it for a camera: YUV4MPEG2, planes 4:2:0. */
import { qrRuns } from '../../src/core/measure/cards/index.js';

const WIDTH = 1280;
const HEIGHT = 720;
const FRAMES = 5;
const LIGHT = 225;
const DARK = 25;
const GREY = 110;
const NO_COLOUR = 128;
const MODULE_PX = 8;

export function filmOfCode(text: string): Buffer {
  const luma = Buffer.alloc(WIDTH * HEIGHT, GREY);
  const { runs, size } = qrRuns(text, 'L')!;
  const [left, top] = [Math.floor((WIDTH - size * MODULE_PX) / 2), Math.floor((HEIGHT - size * MODULE_PX) / 2)];
  const fill = (x: number, y: number, width: number, height: number, value: number) => {
    for (let row = top + y * MODULE_PX; row < top + (y + height) * MODULE_PX; row += 1)
      luma.fill(value, row * WIDTH + left + x * MODULE_PX, row * WIDTH + left + (x + width) * MODULE_PX);
  };
  fill(0, 0, size, size, LIGHT);
  for (const { x, y, length } of runs) fill(x, y, length, 1, DARK);
  const frame = Buffer.concat([Buffer.from('FRAME\n'), luma, Buffer.alloc((WIDTH * HEIGHT) / 2, NO_COLOUR)]);
  return Buffer.concat([
    Buffer.from(`YUV4MPEG2 W${WIDTH} H${HEIGHT} F10:1 Ip A1:1 C420jpeg\n`),
    ...new Array<Buffer>(FRAMES).fill(frame),
  ]);
}
