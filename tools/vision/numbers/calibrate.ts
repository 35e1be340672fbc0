/**
 * What a reading's confidence is worth: reads scenes held back from training (`hold.py`), fits the curve of
 * `chanceRight.ts` on one half of them and tells on the other how it keeps its word.
 *
 *     npx tsx tools/vision/numbers/calibrate.ts SCENES
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { wholeRect } from '../../../src/core/measure/images.js';
import { CLUES, chanceRight, cluesOf } from '../../../src/core/measure/numbers/chanceRight.js';
import { LEAST_WHOLE, seeNumbers } from '../../../src/core/measure/numbers/readNumbers.js';
import type { SeenNumber } from '../../../src/core/measure/numbers/types.js';
import { reliability, type Saying } from '../../../src/core/numeric/reliability.js';
import { openNetworks } from '../../../src/host/vision/index.js';
import { decodePicture } from '../../accuracy/measurePicture.js';
import { fitLogistic, type Sample, saidBy } from './fitLogistic.js';

/** As `hold.py` writes it; `?` is a digit that cannot be read. */
interface TrueNumber {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly height: number;
  readonly isWhole: boolean;
}

/** A reading is of a number whose middle is no further off than this, in heights. */
const SAME_PLACE = 1.2;
/** A bike's digits are seldom smaller when the bike fills the look (30 px of 448); the scenes hold many that are. */
const LEAST_HEIGHT_PX = 21;
/** One scene's number in five has one digit; of the numbers 1–99 it is one in eleven. Odds of the one to the other. */
const SINGLE_WEIGHT = 9 / 90 / (1 / 4);
const THRESHOLDS = [0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95] as const;

interface Read extends Sample {
  readonly isWhole: boolean;
  readonly saidNow: number;
}

/** Null for a reading that is neither right nor wrong: of a number too small to count, or with a digit nobody can read. */
function judged(seen: SeenNumber, truth: readonly TrueNumber[]): Read | null {
  const near = truth.filter(({ x, y, height }) => Math.hypot(x - seen.x, y - seen.y) < SAME_PLACE * height);
  const mayBe = ({ text, isWhole }: TrueNumber) =>
    !isWhole && text.length === seen.text.length && [...text].every((c, at) => c === '?' || c === seen.text[at]);
  if (near.some((number) => number.height < LEAST_HEIGHT_PX || mayBe(number))) return null;
  const isRight = near.some(({ text, isWhole }) => isWhole && text === seen.text);
  return {
    clues: cluesOf(seen),
    isRight,
    weight: isRight && seen.text.length === 1 ? SINGLE_WEIGHT : 1,
    isWhole: seen.whole >= LEAST_WHOLE,
    saidNow: chanceRight(seen),
  };
}

/** Every other scene is for fitting, the rest for telling. */
async function readScenes(folder: string): Promise<readonly [Read[], Read[]]> {
  const truth: Readonly<Record<string, readonly TrueNumber[]>> = JSON.parse(
    readFileSync(join(folder, 'truth.json'), 'utf8'),
  );
  const networks = await openNetworks();
  const halves: [Read[], Read[]] = [[], []];
  for (const [index, [name, numbers]] of Object.entries(truth).entries()) {
    const image = await decodePicture(join(folder, name));
    for (const seen of await seeNumbers(image, wholeRect(image), networks.findDigits)) {
      const read = judged(seen, numbers);
      if (read) halves[index % 2 === 0 ? 0 : 1].push(read);
    }
  }
  await networks.close();
  return halves;
}

function tell(title: string, sayings: readonly Saying[]): void {
  const told = reliability(sayings);
  if (!told) return;
  const { expectedError, brier, brierOfConstant, bins } = told;
  console.log(
    `${title}: ${sayings.length} readings, calibration error ${expectedError.toFixed(3)}, Brier score ${brier.toFixed(3)}, ${brierOfConstant.toFixed(3)} for the constant rate`,
  );
  for (const { said, right, count } of bins)
    console.log(`  said ${said.toFixed(2)}  right ${right.toFixed(2)}  of ${count}`);
}

const [folder] = process.argv.slice(2);
if (folder === undefined) throw new Error('Expected the folder that hold.py wrote, but nothing came.');
const [forFitting, forTelling] = await readScenes(folder);
const weights = fitLogistic(forFitting);
console.log(CLUES.map((name, index) => `${name}: ${weights[index]!.toFixed(2)}`).join(', '));
const sayings = forTelling.map((read) => ({ ...read, said: saidBy(weights, read.clues) }));
tell('the curve fitted now', sayings);
tell(
  'the curve in chanceRight.ts',
  forTelling.map(({ saidNow, isRight }) => ({ said: saidNow, isRight })),
);
for (const least of THRESHOLDS) {
  const shown = sayings.filter(({ said, isWhole }) => said >= least && isWhole);
  const wrong = shown.filter(({ isRight }) => !isRight).length;
  console.log(`from ${least}: ${shown.length - wrong} right, ${wrong} wrong`);
}
