/** The desk of a made-up evening in a process of its own, as a browser meets it: what it works does not hold up who measures. */
import type { FakeDay } from '../../src/server/testing/fakeDay.js';
import { openDesk } from '../../test/e2e/deskBrowser.js';
import type { Evening, OpenEvening } from './choosing.js';

/** Pictures and crops lie made already, as they do once a day was measured and judged: here one stands for all of each. */
async function makeOnePictureForAll(day: FakeDay): Promise<void> {
  const bike = day.state().arrangement.riders[0]!.face;
  const picture = await day.picture(bike.frameId);
  const crop = await day.crop(bike.frameId, { left: 1200, top: 800, right: 2800, bottom: 1900 });
  day.picture = async () => picture;
  day.crop = async () => crop;
}

process.on('disconnect', () => process.exit(0));
process.once('message', async ({ frames, riders }: Evening) => {
  const desk = await openDesk({ frames, riders, untilHour: 18 });
  await makeOnePictureForAll(desk.day);
  const open: OpenEvening = { url: desk.url, port: desk.port };
  process.send?.(open);
});
