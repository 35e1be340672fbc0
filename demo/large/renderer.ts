/** Renders shots of an enlarged meeting by their place in its list; one of the processes that `make.ts` starts. */
import sharp from 'sharp';
import { render } from '../render/frame.js';
import { largeMeeting } from './day.js';
import { largeShot } from './shots.js';

/** Of seven: edges are a little coarser, a picture takes two thirds of the time. */
const SUB_FRAMES = 4;
const QUALITY = 82;

const meeting = largeMeeting(Number(process.argv[2]));
process.on('message', async (at: number) => {
  const named = meeting.shots[at];
  if (!named) throw new Error(`The day has ${meeting.shots.length} shots, but number ${at} was asked for.`);
  const shot = largeShot(meeting, named.shot, at);
  const { pixels, boxes } = render(shot, { subFrames: SUB_FRAMES });
  const raw = { width: shot.width, height: shot.height, channels: 3 } as const;
  const jpeg = await sharp(Buffer.from(pixels.buffer), { raw }).jpeg({ quality: QUALITY }).toBuffer();
  process.send?.({ at, jpeg, boxes });
});
