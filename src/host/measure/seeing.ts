/** The measurer's eyes: everything of `host/vision` that a measuring child uses. */
import type { FrameId } from '../../core/ids.js';
import type { RgbImage } from '../../core/measure/images.js';
import type { FileMetadata, FrameMeasured } from '../../core/measure/types.js';
import { PIXELS_VERSION } from '../../core/measure/versions.js';

export interface Seeing {
  measure(
    image: RgbImage,
    about: { readonly frameId: FrameId; readonly source: FrameMeasured['source'] },
  ): Promise<FrameMeasured>;
  refine(measured: FrameMeasured, path: string, metadata: FileMetadata): Promise<FrameMeasured>;
}

export const openSeeing = async (): Promise<Seeing> => ({
  measure: async (_image, { frameId, source }) => ({
    kind: 'measured',
    v: PIXELS_VERSION,
    frameId,
    tier: 'preview',
    source,
    subjects: [],
    dividerScore: 0,
    sceneDescriptor: '',
    meanLuminance: 0,
    clippedShare: 0,
  }),
  refine: async (measured) => ({ ...measured, tier: 'full' }),
});
