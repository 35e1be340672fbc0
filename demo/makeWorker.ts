/** Renders exposures by their place in the day's list; one of the processes that `make.ts` starts. */
import { photographTheDay } from './day/photograph.js';
import { pictureOf } from './day/picture.js';

const exposures = photographTheDay();
process.on('message', async (index: number) => {
  const exposure = exposures[index];
  if (!exposure) throw new Error(`The day has ${exposures.length} exposures, but number ${index} was asked for.`);
  const { avif, boxes } = await pictureOf(exposure);
  process.send?.({ index, avif, boxes });
});
