/** Accuracy on pictures of riders on circuits: are all bikes found, only bikes, and is the main one's colour right? */
import { join } from 'node:path';
import type { FrameMeasured, Subject } from '../../src/core/measure/types.js';
import {
  colourRows,
  countBikes,
  countColours,
  FOUND_AT,
  hasBike,
  type Measured,
  measureAll,
  strangeCells,
  strangeColours,
  troubleRows,
  unreadableRows,
} from './labelled.js';
import { bikesIn, type Row, readLabels } from './labels.js';
import type { Part } from './part.js';

const strangeCounts = (rows: readonly Row[]): string[] =>
  strangeCells(rows, 'bikes', (cell) => bikesIn(cell) !== null, 'a whole number or "many"');

/** Frames with a few bikes, one by one: whether every one of them was found, and which was taken for the main one. */
function severalRows(exactly: readonly Measured[]): string[] {
  const several = exactly.filter(({ row }) => Number(row.bikes) > 1);
  const whole = several.filter(({ row, frame }) => countBikes(frame) >= Number(row.bikes));
  const least = exactly.filter(({ row }) => Number(row.bikes) === 1);
  const surplus = least.filter(({ frame }) => countBikes(frame) > 1);
  return [
    `  every bike found in ${whole.length} of ${several.length} pictures with two or three:`,
    ...several.map(({ row, frame }) => `    ${row.file}: ${countBikes(frame)} of ${row.bikes}, ${mainWords(frame)}`),
    `  more than one found where there is one: ${surplus.map(({ row }) => row.file).join(', ') || 'none'}`,
  ];
}

/** No label says which bike was meant: size, middle and sharpness of the chosen one are printed to be looked at. */
function mainWords({ subjects }: FrameMeasured): string {
  const main = subjects.find(({ isMain }) => isMain);
  if (!main) return 'none is the main one';
  const bikes = subjects.filter(({ what, score }) => what === 'motorcycle' && score >= FOUND_AT);
  const largest = bikes.every(({ box }) => box[2] * box[3] <= main.box[2] * main.box[3]);
  const sharpnessOf = ({ sharpness }: Subject) => ('overall' in sharpness ? sharpness.overall : 0);
  const sharpest = bikes.every((bike) => sharpnessOf(bike) <= sharpnessOf(main));
  const across = Math.round(100 * (main.box[0] + main.box[2] / 2));
  return `main one at ${across} % across, ${largest ? 'the largest' : 'not the largest'}, ${sharpest ? 'the sharpest' : 'not the sharpest'}`;
}

/** Pictures of circuits without a motorcycle: people, single-seaters, cars. */
function withoutBikesRows(measured: readonly Measured[]): string[] {
  const without = measured.filter(({ row }) => bikesIn(row.bikes ?? '') === 0);
  if (without.length === 0) return [];
  const falsely = without.filter(({ frame }) => hasBike(frame));
  return [
    `  a bike falsely found in ${falsely.length} of ${without.length} labelled with none`,
    ...without.map(({ row, frame }) => `    ${row.file}: ${kindsOf(frame)}`),
  ];
}

const kindsOf = ({ subjects }: FrameMeasured): string =>
  subjects.map(({ what, score }) => `${what} ${score.toFixed(2)}`).join(', ') || 'nothing';

export const racePhotosAccuracy: Part = async (vision, dataDir) => {
  const folder = join(dataDir, 'race-photos');
  const labels = readLabels(folder);
  if (!labels) return null;
  const { measured, unreadable } = await measureAll(vision, folder, labels.rows);
  const notCounted = [
    ...unreadableRows(unreadable),
    ...troubleRows([...labels.troubles, ...strangeCounts(labels.rows), ...strangeColours(labels.rows)]),
  ];
  const withBikes = measured.filter(({ row }) => (bikesIn(row.bikes ?? '') ?? 0) !== 0);
  if (withBikes.length === 0)
    return { rows: ['race photos: no picture labelled with bikes could be measured', ...notCounted], figures: {} };
  const found = withBikes.filter(({ frame }) => hasBike(frame));
  const exactly = withBikes.filter(({ row }) => bikesIn(row.bikes!) !== 'many');
  const foundExactly = exactly.filter(({ frame }) => hasBike(frame));
  const countedRight = exactly.filter(({ row, frame }) => countBikes(frame) === Number(row.bikes));
  const missed = withBikes.filter(({ frame }) => !hasBike(frame)).map(({ row }) => `${row.file} (${row.bikes})`);
  return {
    rows: [
      `race photos: a bike found in ${found.length} of ${withBikes.length} labelled with bikes; ${foundExactly.length} of ${exactly.length} labelled with an exact count`,
      `  missed: ${missed.join(', ') || 'none'}`,
      `  as many bikes as labelled in ${countedRight.length} of ${exactly.length}`,
      ...severalRows(exactly),
      ...withoutBikesRows(measured),
      ...colourRows('race photos, main colour of the main bike', countColours(withBikes)),
      ...notCounted,
    ],
    figures: {
      'photos.bikeFound': {
        value: found.length,
        unit: `of ${withBikes.length} photos`,
        better: 'higher',
        note: `motorcycle at score ≥ ${FOUND_AT}; labelled with an exact count: ${foundExactly.length} of ${exactly.length}`,
      },
    },
  };
};
