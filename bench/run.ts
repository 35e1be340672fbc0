/**
 * `npm run bench [part…] [--json FILE]`: ratios against a named reference run in the same process. The parts are
 * those of the table below; without one named, all are run.
 */
import { type Figures, printFigures, printMachine, readOptions, writeFigures } from '../tools/figures.js';

const parts: Readonly<Record<string, () => Promise<Figures>>> = {
  arrange: async () => (await import('./arrange/index.js')).benchArrange(),
  measure: async () => (await import('./measure/index.js')).benchMeasure(),
  bringin: async () => (await import('./bringin/index.js')).benchBringIn(),
  firstRiders: async () => (await import('./firstRiders.js')).benchFirstRiders(),
  desk: async () => (await import('./desk/firstScreen.js')).benchDesk(),
  choosing: async () => (await import('./desk/choosing.js')).benchChoosing(),
  logbook: async () => (await import('./logbook/index.js')).benchLogbook(),
  light: async () => (await import('./light.js')).benchLight(),
  choose: async () => (await import('./choose.js')).benchChoose(),
  finish: async () => (await import('./finish/index.js')).benchFinish(),
  gallery: async () => (await import('./gallery/index.js')).benchGallery(),
  search: async () => (await import('./gallery/search.js')).benchSearch(),
  orders: async () => (await import('./shop/index.js')).benchOrders(),
  solver: async () => (await import('./solver.js')).benchSolver(),
};

const { json, only } = readOptions(process.argv.slice(2));
printMachine();
let all: Figures = {};
for (const [name, bench] of Object.entries(parts)) {
  if (only.length > 0 && !only.includes(name)) continue;
  const started = performance.now();
  try {
    const figures = await bench();
    printFigures(figures);
    all = { ...all, ...figures };
  } catch (error) {
    console.error(`${name} could not be measured: ${error instanceof Error ? error.message : String(error)}`);
    process.exitCode = 1;
  }
  console.log(`  ${name}: ${((performance.now() - started) / 1000).toFixed(0)} s`);
}
if (json !== null) writeFigures(json, all);
