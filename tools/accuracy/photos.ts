/**
 * How well bikes are found and described on real pictures: `photosAccuracy(dataDir)`. The folder has the layout
 * `race-photos/{labels,numbers}.tsv`, `bike-colours/labels.tsv`, `dividers/<kind>/…`, `clips/<name>/{frames,masks}`,
 * `reid-two-cameras/<name>_cam1.jpg`; each part that is absent leaves its keys out. No threshold is fitted to
 * these pictures; the colour weights and the second look were reasoned while looking at results on them, so pictures
 * never seen are the better test.
 */
import { openVision } from '../../src/host/vision/index.js';
import type { Figure } from '../figures.js';
import { clipsAccuracy } from './clips.js';
import { bikeColoursAccuracy, dividersAccuracy } from './labelled.js';
import { numbersAccuracy } from './numbers.js';
import type { Part, PhotosAccuracy } from './part.js';
import { racePhotosAccuracy } from './racePhotos.js';
import { sameBikeAccuracy } from './sameBike.js';

const PARTS: readonly Part[] = [
  racePhotosAccuracy,
  numbersAccuracy,
  bikeColoursAccuracy,
  dividersAccuracy,
  clipsAccuracy,
  sameBikeAccuracy,
];

export async function photosAccuracy(dataDir: string): Promise<PhotosAccuracy> {
  const vision = await openVision();
  const rows: string[] = [];
  const figures: Record<string, Figure> = {};
  try {
    for (const part of PARTS) {
      const result = await part(vision, dataDir);
      rows.push(...(result?.rows ?? []));
      Object.assign(figures, result?.figures ?? {});
    }
  } finally {
    await vision.close();
  }
  if (rows.length === 0) rows.push(`No labelled pictures at ${dataDir}: nothing was measured.`);
  return { rows, figures };
}
