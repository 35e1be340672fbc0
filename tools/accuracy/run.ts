/**
 * `npm run accuracy [--data DIR] [--json FILE] [demo] [photos] [renders] [simulated] [demoLarge] [sun] [replan] [dust] [judge] [keepers] [axe] [hostile] [kill] [colours] [clues]`:
 * what the program gets right and wrong, on the invented meetings and, where they are present, on real pictures laid out
 * like `../shared/data`. Nothing is remembered: every figure is of this run. Without names all parts run but `colours`
 * and `clues`, tables that take minutes.
 */
import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { type Figures, printFigures, printMachine, readOptions, writeFigures } from '../figures.js';
import { alikeAccuracy } from './alike.js';
import { axeAccuracy } from './axe.js';
import { cluesAccuracy } from './clues.js';
import { demoAccuracy } from './demo.js';
import { demoLargeAccuracy } from './demoLarge.js';
import { dustAccuracy } from './dust.js';
import { hostileAccuracy } from './hostile.js';
import { judgeAccuracy } from './judge.js';
import { keepersAccuracy } from './keepers.js';
import { killAccuracy } from './kill.js';
import { photosAccuracy } from './photos.js';
import { pocketAccuracy } from './pocket.js';
import { renderedColoursAccuracy } from './renderedColours.js';
import { replanAccuracy } from './replan.js';
import { sameBikeRenderedAccuracy } from './sameBikeRendered.js';
import { simulatedAccuracy } from './simulated.js';
import { solverAccuracy } from './solver.js';
import { sunAccuracy } from './sun.js';

const { json, data, only } = readOptions(process.argv.slice(2));
const dataFolder = resolve(data ?? '../shared/data');
const isWanted = (part: string) => only.length === 0 || only.includes(part);
printMachine();

let figures: Figures = {};
if (isWanted('demo')) {
  console.log('\nThe invented meeting');
  const demo = await demoAccuracy();
  for (const row of demo.rows) console.log(`  ${row}`);
  figures = { ...figures, ...demo.figures };
}
if (isWanted('photos')) {
  console.log(`\nReal pictures in ${dataFolder}`);
  if (existsSync(dataFolder)) {
    const photos = await photosAccuracy(dataFolder);
    for (const row of photos.rows) console.log(`  ${row}`);
    figures = { ...figures, ...photos.figures };
  } else console.warn('  SKIPPED: no such folder, so nothing was measured on real pictures.');
}
if (isWanted('renders')) {
  console.log('\nBikes of the invented meeting known again');
  const renders = await sameBikeRenderedAccuracy();
  for (const row of renders.rows) console.log(`  ${row}`);
  figures = { ...figures, ...renders.figures };
}
if (isWanted('simulated')) {
  console.log('\nSimulated days');
  const simulated = simulatedAccuracy();
  for (const row of simulated.rows) console.log(`  ${row}`);
  figures = { ...figures, ...simulated.figures };
}
if (isWanted('demoLarge')) {
  console.log('\nEnlarged rendered meetings');
  const large = await demoLargeAccuracy();
  for (const row of large.rows) console.log(`  ${row}`);
  figures = { ...figures, ...large.figures };
}
if (isWanted('sun')) {
  console.log('\nThe sun');
  const sun = sunAccuracy();
  for (const row of sun.rows) console.log(`  ${row}`);
  figures = { ...figures, ...sun.figures };
}
if (isWanted('solver')) {
  console.log('\nThe day’s solver');
  const solver = await solverAccuracy();
  for (const row of solver.rows) console.log(`  ${row}`);
  figures = { ...figures, ...solver.figures };
}
if (isWanted('replan')) {
  console.log('\nThe plan again at lunch');
  const replan = await replanAccuracy();
  for (const row of replan.rows) console.log(`  ${row}`);
  figures = { ...figures, ...replan.figures };
}
if (isWanted('pocket')) {
  console.log('\nThe pocket page and its cards');
  const pocket = await pocketAccuracy(dataFolder);
  for (const row of pocket.rows) console.log(`  ${row}`);
  figures = { ...figures, ...pocket.figures };
}
if (isWanted('dust')) {
  console.log('\nDust on a sensor');
  const dust = await dustAccuracy(dataFolder);
  for (const row of dust.rows) console.log(`  ${row}`);
  figures = { ...figures, ...dust.figures };
}
if (isWanted('judge')) {
  console.log('\nFrames judged against each other');
  const judged = await judgeAccuracy(dataFolder);
  for (const row of judged.rows) console.log(`  ${row}`);
  figures = { ...figures, ...judged.figures };
}
if (isWanted('keepers')) {
  console.log('\nKeepers against the best sets');
  const keepers = await keepersAccuracy();
  for (const row of keepers.rows) console.log(`  ${row}`);
  figures = { ...figures, ...keepers.figures };
}
if (isWanted('axe')) {
  console.log('\nThe gallery by axe');
  const looked = await axeAccuracy();
  for (const row of looked.rows) console.log(`  ${row}`);
  figures = { ...figures, ...looked.figures };
}
if (isWanted('kill')) {
  console.log('\nThe order service killed');
  const killed = await killAccuracy();
  for (const row of killed.rows) console.log(`  ${row}`);
  figures = { ...figures, ...killed.figures };
}
if (isWanted('hostile')) {
  console.log('\nThe order service among hostile requests');
  const hostile = await hostileAccuracy();
  for (const row of hostile.rows) console.log(`  ${row}`);
  figures = { ...figures, ...hostile.figures };
}
if (isWanted('alike')) {
  console.log('\nPictures made alike');
  const alike = await alikeAccuracy();
  for (const row of alike.rows) console.log(`  ${row}`);
  figures = { ...figures, ...alike.figures };
}
// Tables for people, without figures of their own: only where they are asked for.
if (only.includes('colours')) {
  console.log('\nColours of rendered riders in four lights');
  for (const row of (await renderedColoursAccuracy()).rows) console.log(`  ${row}`);
}
if (only.includes('clues')) {
  console.log('\nWhat each clue is worth');
  for (const row of cluesAccuracy()) console.log(`  ${row}`);
}
console.log('');
printFigures(figures);
if (json !== null) writeFigures(json, figures);
