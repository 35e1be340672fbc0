/** Pictures of frames that were finished in another program and brought back. */
import type { FileId } from '../../ids.js';
import type { FoldedLog } from '../../log/types.js';

export interface PictureFromElsewhere {
  /** Hash of its bytes. */
  readonly picture: FileId;
  readonly extension: string;
}

/** By the file of the frame it was said of; of two the later word stands. */
export const picturesFromElsewhere = (log: FoldedLog): ReadonlyMap<FileId, PictureFromElsewhere> =>
  new Map(
    log.inForce.flatMap(({ decision }) =>
      decision.kind === 'finished-elsewhere'
        ? [[decision.file, { picture: decision.picture, extension: decision.extension }] as const]
        : [],
    ),
  );
