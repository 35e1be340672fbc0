/**
 * From the detector's boxes to subjects: a bike and the rider on it are one subject, several bikes stay several, and a
 * person who rides nothing (a marshal, a spectator) is no part of a bike.
 * The thresholds are geometry and the detector's published working points, set without any photograph's labels.
 */
import { areaOf, type DetectedClass, type Detection, intersectionOf, overlapOf } from './decodeDetections.js';
import type { Box } from './types.js';

/** At this score the detector is taken at its word (VISION notes: all figures there are at 0.4). */
export const LEAST_SUBJECT_SCORE = 0.4;
/** A person by itself. */
export const LEAST_PERSON_SCORE = 0.3;
/** A person on a bike may be far less sure: the bike already says that somebody is likely there. */
const LEAST_RIDER_SCORE = 0.15;
/** Nothing below this is asked of the detector. */
export const LEAST_DETECTION_SCORE = LEAST_RIDER_SCORE;
/** Within a class: two boxes overlapping more than this are one thing seen twice. */
export const MOST_OVERLAP = 0.6;
/** Share of a box inside a larger one of its class beyond which it is a part of that one (a wheel, a fairing). */
const PART_SHARE = 0.85;
/** A single-seater is often called both: more than this of the smaller box in common, and the surer word holds. */
const SHARED_WITH_CAR = 0.5;
/** Two bikes' boxes that overlap this much, and in width nearly wholly, may be one bike found twice. */
const STACKED_OVERLAP = 0.4;
const STACKED_WIDTH_OVERLAP = 0.65;
/** Share of the person's box that must lie in the bike's for the person to be its rider. */
const LEAST_SEATED_SHARE = 0.35;
/** An unsure person must lie more inside, and be no mere patch of the bike: at least this share of its box. */
const UNSURE_SEATED_SHARE = 0.5;
const UNSURE_LEAST_SIZE = 0.12;
/** Closer than this to the picture's edge, the subject may go on outside. One step of the detector's 300 px grid is 0.0033. */
const EDGE = 0.006;

export interface SubjectBoxes {
  readonly what: DetectedClass;
  /** Bike and rider together. */
  readonly box: Box;
  readonly bikeBox: Box;
  readonly riderBox?: Box;
  readonly score: number;
  readonly isCut: boolean;
}

/** Vehicles first, surest first; where there is none at all, people stand alone (a rider whose bike was not seen). */
export function assembleSubjects(detections: readonly Detection[]): SubjectBoxes[] {
  const people = withoutParts(ofClass(detections, 'person', LEAST_RIDER_SCORE));
  const vehiclesBeside = vehicles(detections, ['car', 'bicycle']);
  const called = vehicles(detections, ['motorcycle']).filter((bike) => !vehiclesBeside.some((car) => isCar(car, bike)));
  const { kept: bikes, wholes } = joinStacked(called, people);
  const others = vehiclesBeside.filter((other) => !bikes.some((bike) => isSameThing(other.box, bike.box)));
  const mounts = [...bikes, ...others.filter(({ what }) => what === 'bicycle')];
  const riders = seatPeople(mounts, people);
  const subjects = [...bikes, ...others].map((vehicle) => subjectOf(vehicle, riders.get(vehicle), wholes.get(vehicle)));
  if (subjects.length > 0) return subjects;
  return people.filter(({ score }) => score >= LEAST_SUBJECT_SCORE).map((person) => subjectOf(person));
}

const ofClass = (detections: readonly Detection[], what: DetectedClass, leastScore: number): Detection[] =>
  detections.filter((each) => each.what === what && each.score >= leastScore);

const vehicles = (detections: readonly Detection[], classes: readonly DetectedClass[]): Detection[] =>
  classes.flatMap((what) => withoutParts(ofClass(detections, what, LEAST_SUBJECT_SCORE)));

/** The same object under two classes, or a part beside its whole. */
const isSameThing = (a: Box, b: Box): boolean =>
  overlapOf(a, b) > MOST_OVERLAP || intersectionOf(a, b) > PART_SHARE * Math.min(areaOf(a), areaOf(b));

/** The bike is a car that was called a bike as well, less surely. */
const isCar = (car: Detection, bike: Detection): boolean =>
  car.what === 'car' &&
  car.score > bike.score &&
  intersectionOf(car.box, bike.box) > SHARED_WITH_CAR * Math.min(areaOf(car.box), areaOf(bike.box));

/** Of two boxes of one class of which one holds the other, the surer stays. */
function withoutParts(detections: readonly Detection[]): Detection[] {
  const kept: Detection[] = [];
  for (const each of [...detections].sort((a, b) => b.score - a.score)) {
    if (!kept.some((other) => isSameThing(other.box, each.box))) kept.push(each);
  }
  return kept;
}

/**
 * Seen from ahead or behind, one bike is often found twice: the machine, and the rider with the upper part of it. Two
 * boxes one above the other are one bike unless two people are there to ride them; the surer stays, the whole is both.
 */
function joinStacked(bikes: readonly Detection[], people: readonly Detection[]) {
  const kept: Detection[] = [];
  const wholes = new Map<Detection, Box>();
  for (const bike of bikes) {
    const same = kept.find((other) => isStacked(other.box, bike.box) && ridersAbout(other, bike, people) < 2);
    if (same) wholes.set(same, unionOf(wholes.get(same) ?? same.box, bike.box));
    else kept.push(bike);
  }
  return { kept, wholes };
}

function isStacked(a: Box, b: Box): boolean {
  const common = Math.min(a[0] + a[2], b[0] + b[2]) - Math.max(a[0], b[0]);
  const either = Math.max(a[0] + a[2], b[0] + b[2]) - Math.min(a[0], b[0]);
  return overlapOf(a, b) > STACKED_OVERLAP && common > STACKED_WIDTH_OVERLAP * either;
}

function ridersAbout(a: Detection, b: Detection, people: readonly Detection[]): number {
  const both = unionOf(a.box, b.box);
  const isThere = ({ score, box }: Detection) =>
    score >= LEAST_PERSON_SCORE &&
    intersectionOf(box, both) > UNSURE_SEATED_SHARE * areaOf(box) &&
    areaOf(box) > UNSURE_LEAST_SIZE * areaOf(a.box);
  return people.filter(isThere).length;
}

/** Each bike takes at most one rider and each person sits on at most one bike; the best fits go first. */
function seatPeople(bikes: readonly Detection[], people: readonly Detection[]): Map<Detection, Detection> {
  const fits = bikes
    .flatMap((bike) => people.map((person) => ({ bike, person, fit: seatFit(bike.box, person.box) })))
    .filter(({ bike, person, fit }) => isSeated(bike, person, fit))
    .sort((a, b) => b.fit * b.person.score - a.fit * a.person.score);
  const riders = new Map<Detection, Detection>();
  const seated = new Set<Detection>();
  for (const { bike, person } of fits) {
    if (riders.has(bike) || seated.has(person)) continue;
    riders.set(bike, person);
    seated.add(person);
  }
  return riders;
}

function isSeated(bike: Detection, person: Detection, fit: number): boolean {
  if (person.score >= LEAST_PERSON_SCORE) return fit >= LEAST_SEATED_SHARE;
  return fit >= UNSURE_SEATED_SHARE && areaOf(person.box) >= UNSURE_LEAST_SIZE * areaOf(bike.box);
}

/** Share of the person inside the bike's box; somebody much larger than the bike stands in front of it. */
function seatFit(bike: Box, person: Box): number {
  if (areaOf(person) > 2.5 * areaOf(bike)) return 0;
  return intersectionOf(bike, person) / areaOf(person);
}

function subjectOf(vehicle: Detection, rider?: Detection, whole: Box = vehicle.box): SubjectBoxes {
  const box = rider ? unionOf(whole, rider.box) : whole;
  const base = { what: vehicle.what, box, bikeBox: vehicle.box, score: vehicle.score, isCut: touchesEdge(box) };
  return rider ? { ...base, riderBox: rider.box } : base;
}

export function unionOf(a: Box, b: Box): Box {
  const left = Math.min(a[0], b[0]);
  const top = Math.min(a[1], b[1]);
  const right = Math.max(a[0] + a[2], b[0] + b[2]);
  const bottom = Math.max(a[1] + a[3], b[1] + b[3]);
  return [left, top, right - left, bottom - top];
}

export function touchesEdge([left, top, width, height]: Box): boolean {
  return left < EDGE || top < EDGE || left + width > 1 - EDGE || top + height > 1 - EDGE;
}

export interface Candidate {
  readonly box: Box;
  readonly what: DetectedClass;
  readonly isCut: boolean;
  /** Any scale, only compared within the frame; absent counts as the least of the frame. */
  readonly sharpness?: number;
}

/**
 * Index of the subject the photographer meant, −1 for none: large, sharp, near the middle, whole; bikes before all else.
 * Size counts by its long side (square root of area), sharpness against the sharpest here, and a subject in a corner
 * counts half of one in the middle.
 */
export function chooseMain(candidates: readonly Candidate[]): number {
  const sharpest = Math.max(...candidates.map(({ sharpness }) => sharpness ?? 0), 1e-9);
  let best = -1;
  let bestWorth = Number.NEGATIVE_INFINITY;
  for (const [index, { box, what, isCut, sharpness }] of candidates.entries()) {
    const [left, top, width, height] = box;
    const fromMiddle = Math.hypot(left + width / 2 - 0.5, top + height / 2 - 0.5) / Math.SQRT1_2;
    const sharpShare = 0.3 + 0.7 * ((sharpness ?? 0) / sharpest);
    const kind = what === 'motorcycle' ? 1 : 0.3;
    const worth = kind * Math.sqrt(width * height) * sharpShare * (1 - 0.5 * fromMiddle) * (isCut ? 0.8 : 1);
    if (worth > bestWorth) {
      best = index;
      bestWorth = worth;
    }
  }
  return best;
}
