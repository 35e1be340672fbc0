/** The desk of a made-up evening in a process of its own, as a browser meets it: what it works does not hold up who measures. */
import type { FakeDay } from '../../src/server/testing/fakeDay.js';
import { openDesk } from '../../test/e2e/deskBrowser.js';
import type { Evening, OpenEvening } from './choosing.js';

/** Crops lie cut out already, as they do once a day was judged: here one picture stands for all of them. */
async function cutOneCropForAll(day: FakeDay): Promise<void> {
  const bike = day.state().arrangement.riders[0]!.face;
  const crop = await day.crop(bike.frameId, { left: 1200, top: 800, right: 2800, bottom: 1900 });
  day.crop = async () => crop;
}

process.on('disconnect', () => process.exit(0));
process.once('message', async ({ frames, riders }: Evening) => {
  const desk = await openDesk({ frames, riders, untilHour: 18 });
  await cutOneCropForAll(desk.day);
  const open: OpenEvening = { url: desk.url, port: desk.port };
  process.send?.(open);
});
