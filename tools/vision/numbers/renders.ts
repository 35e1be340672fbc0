/**
 * Bikes without numbers, cut out of the demo's renders: what invented numbers are painted on in training.
 * Run: npx tsx tools/vision/numbers/renders.ts FOLDER [COUNT]. The seeds are not those of the demo's day.
 */
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';
import { FIELD } from '../../../demo/day/field.js';
import { photographTheDay } from '../../../demo/day/photograph.js';
import { shotOf } from '../../../demo/day/shots.js';
import { render } from '../../../demo/render/frame.js';
import { randomFrom } from '../../../demo/render/noise.js';

/** Long edge of what is kept; the scenes are 320 px. */
const EDGE_PX = 384;
const WIDTH_PX = 640;
/** Share of the bike's box left around it. */
const MARGIN = 0.1;
const FIRST_SEED = 70_001;

const [folder, count = '160'] = process.argv.slice(2);
if (!folder) throw new Error('Expected the folder for the pictures as the first argument but none came.');
await mkdir(folder, { recursive: true });

const exposures = photographTheDay().filter(({ role, blur }) => role === 'bike' && blur !== 'defocus');
for (let index = 0; index < Number(count); index += 1) {
  const random = randomFrom(FIRST_SEED + index);
  const exposure = random.oneOf(exposures);
  const rider = random.oneOf(FIELD);
  const blank = { ...rider, livery: { ...rider.livery, number: null, plate: random.oneOf(FIELD).livery.plate } };
  const shot = { ...shotOf({ ...exposure, riders: [blank], seed: FIRST_SEED + index }), width: WIDTH_PX };
  const { pixels, boxes } = render(shot);
  const box = boxes[0];
  if (!box) continue;
  const left = Math.max(0, Math.round((box[0] - MARGIN * box[2]) * shot.width));
  const top = Math.max(0, Math.round((box[1] - MARGIN * box[3]) * shot.height));
  const right = Math.min(shot.width, Math.round((box[0] + (1 + MARGIN) * box[2]) * shot.width));
  const bottom = Math.min(shot.height, Math.round((box[1] + (1 + MARGIN) * box[3]) * shot.height));
  await sharp(Buffer.from(pixels.buffer), { raw: { width: shot.width, height: shot.height, channels: 3 } })
    .extract({ left, top, width: right - left, height: bottom - top })
    .resize(EDGE_PX, EDGE_PX, { fit: 'inside' })
    .jpeg({ quality: 74 })
    .toFile(join(folder, `render${index}.jpg`));
}
