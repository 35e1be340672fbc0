/** An overview for eyes: `npx tsx demo/contactSheet.ts <file.jpg> [every nth frame] [card]`. */
import sharp from 'sharp';
import { readTruth } from './day/truth.js';
import { keptFrame } from './frames.js';

const CELL = { width: 300, height: 200 } as const;
const COLUMNS = 6;

const [file, every = '1', card] = process.argv.slice(2);
if (file === undefined)
  throw new Error('Expected a file to write the sheet to, for instance /tmp/sheet.jpg; nothing came.');
const truth = await readTruth();
const frames = truth.frames
  .filter((f) => card === undefined || f.card === card)
  .filter((_, i) => i % Number(every) === 0);
const cells = await Promise.all(
  frames.map(async (frame, i) => ({
    input: await sharp(await keptFrame(frame.picture ?? ''))
      .resize(CELL.width, CELL.height, { fit: 'contain' })
      .toBuffer(),
    left: (i % COLUMNS) * CELL.width,
    top: Math.floor(i / COLUMNS) * CELL.height,
  })),
);
await sharp({
  create: {
    width: COLUMNS * CELL.width,
    height: Math.ceil(frames.length / COLUMNS) * CELL.height,
    channels: 3,
    background: '#222',
  },
})
  .composite(cells)
  .jpeg({ quality: 85 })
  .toFile(file);
console.log(`${frames.length} frames on ${file}`);
