/**
 * How long choosing keepers takes on a simulated day (seeded; `demo/simulated-day`) of about 7,500 frames and 120 riders, every
 * bike looked at closely: from the arrangement to all keepers, good frames told for it; one rider's whole proposal; who is left; twenty minutes. Warm, the minimum
 * of the runs counts, the spread is printed.
 */
import { ORDINARY_DAY, syntheticDay } from '../demo/simulated-day/index.js';
import { arrange } from '../src/core/arrange/index.js';
import { chooseKeepers, startChoosing, takenWith } from '../src/core/choose/index.js';
import { bikeKeyOf, cover } from '../src/core/cover/index.js';
import { seededRandom } from '../src/core/numeric/random.js';
import { judgedOf } from '../test/builders/judged.js';
import type { Figures } from '../tools/figures.js';

const RUNS = 7;
const FRAMES = 7_500;

export async function benchChoose(): Promise<Figures> {
  const { input, timetable } = syntheticDay({
    seed: 11,
    rounds: 7,
    lunchAfterRound: 4,
    attention: 0.5,
    groups: ORDINARY_DAY.groups.map((group) => ({ ...group, riders: 40 })),
  });
  const { pixels, files, log } = input;
  const arrangement = arrange(input);
  const coverage = cover({ arrangement, pixels, stands: [], spots: [], timetable, entries: null, now: null });
  const metadata = new Map(files.map((file) => [file.fileId, file.metadata]));
  const random = seededRandom(11);
  const judged = new Map(
    arrangement.passes.flatMap(({ bikes }) =>
      bikes.map((bike) => [bikeKeyOf(bike), judgedOf({ fine: random.between(0.4, 1) })] as const),
    ),
  );
  const day = { arrangement, coverage, pixels, log, judged };
  const choosingAll = timed(() =>
    chooseKeepers({ ...day, taken: takenWith(arrangement, (file) => metadata.get(file)) }),
  );
  const choosing = startChoosing({ ...day, taken: takenWith(arrangement, (file) => metadata.get(file)) });
  const proposals = arrangement.riders.map(({ key }) => timed(() => choosing.proposalFor(key)).ms);
  const left = timed(() => choosing.left());
  const minutes = timed(() => choosing.minutes(20));
  const riders = arrangement.riders.length;
  const keepers = [...choosing.keepers.byRider.values()].flat().length;
  console.log(
    `${keepers} keepers of ${riders} riders from ${files.length} frames: ${choosingAll.ms.toFixed(0)} ms at best, ${choosingAll.worstMs.toFixed(0)} at worst of ${RUNS}; ` +
      `one rider’s proposal ${Math.max(...proposals).toFixed(1)} ms for the slowest rider; who is left ${left.ms.toFixed(1)} ms, twenty minutes ${minutes.ms.toFixed(1)} ms`,
  );
  return {
    'choose.ms7500': {
      value: choosingAll.ms * (FRAMES / files.length),
      unit: 'ms',
      better: 'lower',
      note: `${riders} riders, ${files.length} simulated frames in ${choosingAll.ms.toFixed(0)} ms, scaled in proportion`,
    },
    'choose.proposalWorstMs': { value: Math.max(...proposals), unit: 'ms', better: 'lower' },
  };
}

function timed(work: () => unknown): { readonly ms: number; readonly worstMs: number } {
  work();
  const times = Array.from({ length: RUNS }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  return { ms: Math.min(...times), worstMs: Math.max(...times) };
}
