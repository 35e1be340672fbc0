/** Everything that is measured of one upright picture once the detector has spoken. Pure; the host runs the networks. */
import type { FrameId } from '../ids.js';
import {
  assembleSubjects,
  type Candidate,
  chooseMain,
  LEAST_PERSON_SCORE,
  type SubjectBoxes,
} from './assembleSubjects.js';
import type { BikeSeen } from './bikeSeen.js';
import { compareWithWhite, whiteLevelOf } from './compareWithWhite.js';
import type { Detection } from './decodeDetections.js';
import { describeBike } from './describeBike.js';
import { describeScene } from './describeScene.js';
import { estimateLight, type Light } from './estimateLight.js';
import { fitLongEdge, type GreyImage, greyOf, type RgbImage, rectOf, resize, wholeRect } from './images.js';
import { maskSubject, type SubjectMask } from './maskSubject.js';
import { measureColours, type SubjectColours } from './measureColours.js';
import { measureExposure } from './measureExposure.js';
import { measureGround } from './measureGround.js';
import { measureLight } from './measureLight.js';
import { measureSharpness } from './measureSharpness.js';
import { scoreDivider } from './scoreDivider.js';
import { tellTilt } from './tellTilt.js';
import type { Absent, Box, ColourName, FrameMeasured, NumberReading, Sharpness, Subject } from './types.js';
import { PIXELS_VERSION } from './versions.js';

/** Light, exposure, scene and divider are read from a picture this large. */
const SMALL_EDGE = 96;
/** A frame with more bikes than this is a start or a pit lane; the smallest are left out. */
export const MOST_SUBJECTS = 8;

export interface FrameFacts {
  readonly frameId: FrameId;
  readonly source: FrameMeasured['source'];
  readonly tier: FrameMeasured['tier'];
  readonly focalLength35Mm?: number;
}

/** What the networks saw of a subject, as far as they were asked. */
export interface SeenOfSubject {
  readonly bike?: BikeSeen;
  /** Surest first. */
  readonly numbers?: readonly NumberReading[];
}

/** The subjects of a picture, largest first kept where there are too many. Their order is the measurement's. */
export function findSubjects(detections: readonly Detection[]): SubjectBoxes[] {
  const size = ({ box }: SubjectBoxes) => box[2] * box[3];
  return assembleSubjects(detections)
    .sort((a, b) => size(b) - size(a))
    .slice(0, MOST_SUBJECTS);
}

/**
 * @param image long edge about 1,024 px; `half` is the same at half the size (`halve`)
 * @param seen of each subject, in the order of `findSubjects`
 */
export function measurePixels(
  image: RgbImage,
  half: RgbImage,
  detections: readonly Detection[],
  seen: readonly SeenOfSubject[],
  facts: FrameFacts,
): FrameMeasured {
  const { width, height } = fitLongEdge(wholeRect(half), SMALL_EDGE);
  const small = resize(half, wholeRect(half), width, height);
  const light = estimateLight(small);
  const found = findSubjects(detections);
  const measured = found.map((boxes, index) => measureSubject(image, half, boxes, light, seen[index] ?? {}));
  const main = chooseMain(found.map((boxes, index) => candidateOf(boxes, measured[index]!.sharpness)));
  const tilt = tellTilt(
    half,
    found.map(({ box }) => box),
  );
  const surest = Math.max(0, ...detections.map(({ score }) => (score < LEAST_PERSON_SCORE ? 0 : score)));
  return {
    kind: 'measured',
    v: PIXELS_VERSION,
    frameId: facts.frameId,
    tier: facts.tier,
    source: facts.source,
    subjects: measured.map((subject, index) => ({ ...subject, isMain: index === main })),
    dividerScore: scoreDivider(small, surest),
    sceneDescriptor: describeScene(
      small,
      found.map(({ box }) => box),
      facts.focalLength35Mm,
    ),
    ...(tilt.kind === 'told' && { level: { turnDeg: Math.round(100 * tilt.turnDeg) / 100, by: tilt.by } }),
    ...measureExposure(small),
  };
}

function measureSubject(
  image: RgbImage,
  half: RgbImage,
  boxes: SubjectBoxes,
  light: Light,
  { bike, numbers }: SeenOfSubject,
): Omit<Subject, 'isMain'> {
  // The bike network knows motorcycles; of anything else its mask says nothing.
  const mask = maskSubject(half, boxes, boxes.what === 'motorcycle' ? bike?.parts : undefined);
  const colours = measureColours(mask, half, boxes, light);
  const whiteLevel = whiteLevelOf(mask, light);
  const ground = boxes.what === 'person' ? null : measureGround(image, boxes.bikeBox);
  const lightSeen = measureLight(half, boxes.box, mask);
  const besideWhite = hasHueOfFluorescent(colours) ? compareWithWhite(mask, half, light) : [];
  return {
    ...boxes,
    bikeColours: boxes.what === 'person' ? [] : colours.bike,
    riderColours: boxes.what === 'person' ? colours.bike : colours.rider,
    ...(colours.helmet.length > 0 && { helmetColours: colours.helmet }),
    ...(whiteLevel !== null && { whiteLevel }),
    ...(besideWhite.length > 0 && { besideWhite }),
    sharpness: sharpnessInside(image, boxes.box, mask, half.width / image.width),
    ...(ground !== null && { ground }),
    ...(lightSeen !== null && { light: lightSeen }),
    // Nobody is known again who does not sit on a machine.
    descriptor: boxes.what === 'person' ? '' : describeBike(mask, bike?.features),
    ...(numbers && { numbers }),
  };
}

/** Most machines and leathers have none, and need not be looked at again. */
const hasHueOfFluorescent = ({ bike, rider, helmet }: SubjectColours): boolean =>
  [...bike, ...rider, ...helmet].some(({ name }) => HUES_OF_FLUORESCENT.has(name));
const HUES_OF_FLUORESCENT: ReadonlySet<ColourName> = new Set(['yellow', 'lime', 'orange', 'red']);

/** @param share size of the picture the mask was made on, over that of `image` */
function sharpnessInside(image: RgbImage, box: Box, mask: SubjectMask, share: number): Sharpness | Absent {
  const rect = rectOf(box, image);
  const { picture, rect: around, inside } = mask;
  const scaleX = picture.width / (around.right - around.left);
  const scaleY = picture.height / (around.bottom - around.top);
  const columns = Int32Array.from({ length: rect.right - rect.left }, (_, x) =>
    Math.min(picture.width - 1, Math.floor(((x + rect.left) * share - around.left) * scaleX)),
  );
  const rows = Int32Array.from({ length: rect.bottom - rect.top }, (_, y) =>
    Math.min(picture.height - 1, Math.floor(((y + rect.top) * share - around.top) * scaleY)),
  );
  const longEdge = Math.max(image.width, image.height);
  return measureSharpness(greyOf(image, rect), longEdge, { inside, width: picture.width, columns, rows });
}

const candidateOf = ({ box, what, isCut }: SubjectBoxes, sharpness: Sharpness | Absent): Candidate =>
  'overall' in sharpness ? { box, what, isCut, sharpness: sharpness.overall } : { box, what, isCut };

/** A grey cut-out of one subject at full resolution. */
export interface FullCrop {
  readonly grey: GreyImage;
  /** Long edge of the whole full-resolution picture. */
  readonly scalePx: number;
}

/** The same measurement with one subject's sharpness taken from full resolution instead. */
export function refineSharpness(measured: FrameMeasured, subjectIndex: number, crop: FullCrop): FrameMeasured {
  const sharpness = measureSharpness(crop.grey, crop.scalePx);
  const subjects = measured.subjects.map((subject, index) =>
    index === subjectIndex ? { ...subject, sharpness } : subject,
  );
  return { ...measured, tier: 'full', subjects };
}
