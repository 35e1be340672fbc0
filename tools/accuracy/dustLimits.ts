/**
 * `npx tsx tools/accuracy/dustLimits.ts [bodies]`: what limits of the second look find and make up, on made-up sky and tarmac and on the
 * invented meeting's renders. The limits in `findDust.ts` are chosen by arithmetic and seen here; no real picture has a part in it.
 */
import { type DustFrame, findDust, type SecondLook } from '../../src/core/measure/dust/index.js';
import type { GreyImage } from '../../src/core/measure/images.js';
import { type Random, seededRandom } from '../../src/core/numeric/random.js';
import { asFrames, isAt, renderedWindows, SCALE, SIZE, someSpots, throughJpeg, withDust } from './dust.js';
import { madeUpSky, madeUpTarmac } from './dustScenes.js';

const TRIED: readonly SecondLook[] = [
  { voteWithin: 0, leastShareOfVotes: 0.6 },
  { voteWithin: 0.7, leastShareOfVotes: 0.6 },
  { voteWithin: 0.7, leastShareOfVotes: 0.55 },
];
const FRAMES_A_BODY = 24;
const bodies = Number(process.argv[2] ?? 8);
const rendered = await renderedWindows();

const many = (make: (random: Random) => GreyImage) => (random: Random) =>
  Array.from({ length: FRAMES_A_BODY }, () => make(random));
const KINDS = {
  sky: many((random) => madeUpSky(random, SIZE)),
  tarmac: many((random) => madeUpTarmac(random, SIZE)),
  renders: (random: Random) => rendered(random, FRAMES_A_BODY),
};

const spotsIn = (frames: readonly DustFrame[], limits: SecondLook) => {
  const found = findDust({ frames, scale: SCALE }, limits);
  return found.kind === 'looked' ? found.spots : [];
};

for (const [kind, make] of Object.entries(KINDS)) {
  const random = seededRandom(1);
  const tallies = TRIED.map((limits) => ({ limits, found: 0, elsewhere: 0, clean: 0 }));
  let put = 0;
  for (let body = 0; body < bodies; body += 1) {
    const clean = make(random);
    const spots = someSpots(random, SIZE);
    const dusty = asFrames(await Promise.all(clean.map((image) => throughJpeg(withDust(image, spots)))));
    put += spots.length;
    for (const tally of tallies) {
      const found = spotsIn(dusty, tally.limits);
      tally.found += spots.filter((one) => found.some((spot) => isAt(spot, one))).length;
      tally.elsewhere += found.filter((spot) => !spots.some((one) => isAt(spot, one))).length;
      tally.clean += spotsIn(asFrames(clean), tally.limits).length;
    }
  }
  for (const { limits, found, elsewhere, clean } of tallies)
    console.log(
      `${kind}, votes within ${limits.voteWithin}, ${limits.leastShareOfVotes} of them: ${found} of ${put} found, ${elsewhere} elsewhere, ${clean} in clean frames`,
    );
}
