/** How far the sun of this program stands from published tables. */
import type { Figures } from '../figures.js';
import { gridErrors, minuteErrors, readSunTables, secondErrors } from './sunErrors.js';

export const sunAccuracy = (): { readonly rows: readonly string[]; readonly figures: Figures } => {
  const tables = readSunTables();
  const grid = gridErrors(tables);
  const seconds = secondErrors(tables);
  const minutes = minuteErrors(tables);
  const airless = Math.max(...grid.map((row) => row.airlessDeg));
  const seen = Math.max(...grid.flatMap((row) => (row.seenDeg === null ? [] : [row.seenDeg])));
  const azimuth = Math.max(...grid.map((row) => row.azimuthDeg));
  const slowest = seconds.reduce((worst, row) => (row.seconds > worst.seconds ? row : worst));
  const read = minutes.filter((row) => row.seconds === 0).length;
  return {
    rows: [
      `${grid.length} positions of NREL SPA: altitude ${airless.toFixed(4)}° without air, ${seen.toFixed(4)}° with; azimuth ${azimuth.toFixed(4)}° on the sky`,
      `${seconds.length} times to the second: ${slowest.seconds.toFixed(1)} s at most (${slowest.what})`,
      `${minutes.length} times of the US Naval Observatory to the minute: ${read} read the same`,
    ],
    figures: {
      'sun.maxErrorDeg': {
        value: Math.max(airless, seen, azimuth),
        unit: '°',
        better: 'lower',
        note: `largest of both angles over ${grid.length} positions`,
      },
      'sun.maxErrorS': {
        value: Math.max(slowest.seconds, ...minutes.map((row) => row.seconds)),
        unit: 's',
        better: 'lower',
        note: `${seconds.length} rises, noons and sets to the second; ${minutes.length} to the minute, beyond their rounding`,
      },
    },
  };
};
