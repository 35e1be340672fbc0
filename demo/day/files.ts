/** File numbers as the bodies count them: 9999 is followed by 0001 in a new folder, and a fresh card does not reset the count. */
import type { BodyName } from './meeting.js';
import type { Exposure } from './photograph.js';

export interface NumberedExposure {
  readonly exposure: Exposure;
  /** On the card, from its root. */
  readonly path: string;
  /** The RAW beside it. */
  readonly rawPath: string | null;
  /** In `demo/frames.br`. */
  readonly picture: string;
}

const FOLDER_LETTERS = 'HXSEV';
const pad = (n: number, digits: number): string => String(n).padStart(digits, '0');

export function numbered(exposures: readonly Exposure[]): NumberedExposure[] {
  const next = new Map<BodyName, { folder: number; file: number }>();
  return exposures.map((exposure) => {
    const at = next.get(exposure.body.name) ?? { ...exposure.body.firstFile };
    const folder = `DCIM/${at.folder}${FOLDER_LETTERS}`;
    const name = `HX7_${pad(at.file, 4)}`;
    next.set(
      exposure.body.name,
      at.file === 9999 ? { folder: at.folder + 1, file: 1 } : { folder: at.folder, file: at.file + 1 },
    );
    return {
      exposure,
      path: `${folder}/${name}.JPG`,
      rawPath: exposure.isPortrait ? `${folder}/${name}.DNG` : null,
      picture: `${exposure.card}/${name.toLowerCase()}.avif`,
    };
  });
}
