/** Makes crops of bikes that are judged already before somebody looks at them: on another machine, or after the cache was deleted. */
import { access } from 'node:fs/promises';
import type { BikeRef } from '../../core/arrange/types.js';
import { subjectOf } from '../../core/cover/index.js';
import type { FrameId } from '../../core/ids.js';
import { cropAround } from '../../core/judge/index.js';
import { cropPath, isWholeCrop } from '../judge/index.js';
import type { CloseLooker } from '../measure/types.js';
import type { MeasuredStore } from '../meeting/types.js';
import type { MainFile } from './judgeRunner.js';

export interface CropsAhead {
  /** In this order, instead of what was wanted before. */
  want(bikes: readonly BikeRef[]): void;
  close(): void;
}

export interface CropsAheadOptions {
  readonly looker: CloseLooker;
  readonly store: MeasuredStore;
  readonly cropFolder: string;
  readonly fileOf: (frame: FrameId) => MainFile | null;
  readonly mayRun: () => boolean;
}

export function cropsAhead({ looker, store, cropFolder, fileOf, mayRun }: CropsAheadOptions): CropsAhead {
  let wanted: readonly BikeRef[] = [];
  let isRunning = false;
  /** Looked for in this run; a crop that cannot be made is asked for again when somebody wants to see it. */
  const seen = new Set<string>();

  const makeOne = async (bike: BikeRef): Promise<void> => {
    const subject = subjectOf(bike, store.allPixels());
    const file = fileOf(bike.frameId);
    if ('kind' in subject || file === null || file.metadata.widthPx === undefined) return;
    const size = { width: file.metadata.widthPx, height: file.metadata.heightPx ?? 0 };
    const rect = cropAround(subject.box, size);
    if (await isWholeCrop(cropPath(cropFolder, bike.frameId, rect))) return;
    if (!(await isThere(file.path))) return;
    await looker.look({ kind: 'crop', cropFolder, ...file, rect, isWaitedFor: false }).catch(() => null);
  };
  const run = async (): Promise<void> => {
    isRunning = true;
    for (let bike = next(); bike !== undefined && mayRun(); bike = next()) {
      seen.add(`${bike.frameId}:${bike.subject}`);
      await makeOne(bike);
    }
    isRunning = false;
  };
  const next = (): BikeRef | undefined => wanted.find((bike) => !seen.has(`${bike.frameId}:${bike.subject}`));

  return {
    want(bikes) {
      wanted = bikes;
      if (!isRunning) void run();
    },
    close() {
      wanted = [];
    },
  };
}

const isThere = (path: string): Promise<boolean> =>
  access(path).then(
    () => true,
    () => false,
  );
