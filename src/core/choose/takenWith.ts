/** How frames were taken, from their files. */
import type { Arrangement } from '../arrange/types.js';
import type { FileId, FrameId } from '../ids.js';
import type { FileMetadata } from '../measure/types.js';
import type { TakenWith } from './types.js';

export function takenWith(
  { exposures }: Pick<Arrangement, 'exposures'>,
  metadataOf: (file: FileId) => FileMetadata | undefined,
): ReadonlyMap<FrameId, TakenWith> {
  return new Map(
    exposures.flatMap(({ frameId, mainFile }): readonly (readonly [FrameId, TakenWith])[] => {
      const metadata = metadataOf(mainFile);
      if (metadata === undefined) return [];
      const { shutterS } = metadata.exposure;
      const { focalLengthMm } = metadata.lens;
      return [
        [
          frameId,
          {
            ...(shutterS === undefined ? {} : { shutterS }),
            ...(focalLengthMm === undefined ? {} : { focalLengthMm }),
          },
        ],
      ];
    }),
  );
}
