/** Clusters of passes → riders as screens show them. */
import type { FrameId, RiderKey } from '../../ids.js';
import { voteNumber } from '../../measure/numbers/index.js';
import type { ColourShare, Subject, SubjectPart } from '../../measure/types.js';
import type { Bikes } from '../bikes.js';
import type { RawPass } from '../passes.js';
import type { BikeRef, Rider, Session } from '../types.js';
import { codesOfRiders, type RiderParts } from './codesOfRiders.js';
import { fluorescentHueOn, type SeenInSession, whitesOf, withFluorescent } from './fluorescentPaint.js';
import { liveryWords, mainColoursOf, poolColours } from './livery.js';

export interface RiderNaming {
  readonly id: Rider['id'];
  readonly aliases: Rider['aliases'];
  readonly number: string | null;
  readonly shownAs: RiderKey | null;
}

export interface DescribeInput {
  readonly passes: readonly RawPass[];
  readonly bikes: Bikes;
  readonly sessions: readonly Session[];
  /** Per pass its cluster, from 0 in order of first pass. */
  readonly labels: Int32Array;
  /** In nobody’s set: what a rider looks like is not taken from these. */
  readonly isUnsure: (pass: number) => boolean;
  /** Of a frame apart from the sessions: in the set, but what a rider looks like and is known by is not taken from it, either. */
  readonly isApart: (pass: number) => boolean;
  readonly refOf: (bike: number) => BikeRef;
  readonly sourceOf: (cluster: number) => Rider['source'];
  readonly namingOf: (cluster: number) => RiderNaming;
  /** Riders as found: their passes, and of each pass now which of them it was found with, −1 for none. */
  readonly found: FoundSets;
  /** Numbers on the entry list, where there is one. */
  readonly entryNumbers: readonly string[] | undefined;
}

export interface FoundSets {
  readonly passes: readonly RawPass[];
  readonly sets: readonly (readonly number[])[];
  readonly setOf: (pass: number) => number;
}

/** A number less sure is not shown: it would be searched for. */
const LEAST_NUMBER_CONFIDENCE = 0.9;

export const keyOf = (ref: BikeRef): RiderKey => `${ref.frameId as FrameId}:${ref.subject}` as RiderKey;

export function describeRiders(input: DescribeInput): readonly Rider[] {
  const members = membersOf(input.labels).map((passes) => passes.filter((p) => !input.isUnsure(p)));
  const shown = members.map((passes) => onTrackOf(passes, input.isApart));
  const groups = members.map((passes) => groupsOf(passes, input.passes, input.sessions));
  const naming = members.map((_, cluster) => input.namingOf(cluster));
  const anchors = shown.map((passes) => keyOf(input.refOf(input.passes[passes[0]!]!.bikes[0]!)));
  const codes = codesOf(
    members.map((_, c) => ({ group: groups[c]![0] ?? null, anchor: anchors[c]!, shownAs: naming[c]!.shownAs })),
    input,
  );
  const whites = whitesOf(input.passes.flatMap((pass) => seenIn(pass, input.bikes)));
  return members.map((passes, c) => {
    const bikes = shown[c]!.flatMap((p) => input.passes[p]!.bikes);
    const seen = shown[c]!.flatMap((p) => seenIn(input.passes[p]!, input.bikes));
    const pooled = (part: SubjectPart, of: (subject: Subject) => readonly ColourShare[]) =>
      withFluorescent(
        poolColours(bikes.map((i) => of(input.bikes.subjects[i]!))),
        fluorescentHueOn(part, seen, whites),
      );
    const bikeColours = pooled('bike', (subject) => subject.bikeColours);
    const riderColours = pooled('rider', (subject) => subject.riderColours);
    const helmetColours = pooled('helmet', (subject) => subject.helmetColours ?? []);
    const { id, aliases, number } = naming[c]!;
    return {
      key: anchors[c]!,
      id,
      aliases,
      code: codes[c]!,
      ...(number === null ? readNumber(bikes, input) : { number, numberSource: { kind: 'said' } }),
      group: groups[c]![0] ?? null,
      groups: groups[c]!,
      passes,
      bikeColours,
      riderColours,
      ...(helmetColours.length > 0 && { helmetColours }),
      livery: liveryWords(bikeColours, riderColours, helmetColours),
      mainColours: mainColoursOf(bikeColours),
      source: input.sourceOf(c),
      face: input.refOf(faceOf(bikes, input.bikes)),
    };
  });
}

/** All, where there is nothing else. */
function onTrackOf(passes: readonly number[], isApart: (pass: number) => boolean): readonly number[] {
  const onTrack = passes.filter((p) => !isApart(p));
  return onTrack.length === 0 ? passes : onTrack;
}

const seenIn = ({ session, bikes }: RawPass, { subjects }: Bikes): readonly SeenInSession[] =>
  bikes.map((i) => ({ subject: subjects[i]!, session }));

function codesOf(riders: readonly Omit<RiderParts, 'parts'>[], input: DescribeInput): readonly string[] {
  const { passes, sets, setOf } = input.found;
  const found = sets.map((set) => ({
    group: groupsOf(set, passes, input.sessions)[0] ?? null,
    anchor: keyOf(input.refOf(passes[set[0]!]!.bikes[0]!)),
  }));
  const parts = riders.map(() => new Map<number, number>());
  input.labels.forEach((rider, pass) => {
    const set = setOf(pass);
    if (set >= 0) parts[rider]!.set(set, (parts[rider]!.get(set) ?? 0) + 1);
  });
  return codesOfRiders(
    found,
    riders.map((rider, r) => ({ ...rider, parts: parts[r]! })),
  );
}

/** A number that the rider's pictures agree on, as a guess. */
function readNumber(
  bikes: readonly number[],
  { bikes: all, entryNumbers }: DescribeInput,
): Pick<Rider, 'number' | 'numberSource'> {
  const vote = voteNumber(
    bikes.flatMap((i) => all.subjects[i]!.numbers ?? []),
    entryNumbers,
  );
  if (vote.kind !== 'read' || vote.confidence < LEAST_NUMBER_CONFIDENCE) return { number: null, numberSource: null };
  const reasons = [vote.readings === 1 ? 'read in one picture' : `read in ${vote.readings} pictures`];
  return { number: vote.text, numberSource: { kind: 'guessed', confidence: vote.confidence, reasons } };
}

export function membersOf(labels: Int32Array): readonly (readonly number[])[] {
  const members: number[][] = [];
  labels.forEach((label, pass) => {
    const list = members[label];
    if (list === undefined) members[label] = [pass];
    else list.push(pass);
  });
  return members;
}

/** Groups by number of passes, most first; equal counts by name. */
function groupsOf(passes: readonly number[], all: readonly RawPass[], sessions: readonly Session[]): readonly string[] {
  const counts = new Map<string, number>();
  for (const p of passes) {
    const group = sessions[all[p]!.session]?.group ?? null;
    if (group !== null) counts.set(group, (counts.get(group) ?? 0) + 1);
  }
  return [...counts].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1)).map(([group]) => group);
}

/** The picture by which a person knows a rider: whole, large, the frame's main subject, sharp. */
function faceOf(bikes: readonly number[], all: Bikes): number {
  const worth = (i: number): number => {
    const { box, isCut, isMain, score, sharpness } = all.subjects[i]!;
    const sharp = 'kind' in sharpness ? 0.5 : sharpness.overall / (1 + sharpness.overall);
    return (isCut ? 0.4 : 1) * (isMain ? 1 : 0.7) * score * Math.sqrt(box[2] * box[3]) * (0.5 + sharp);
  };
  return bikes.reduce((best, i) => (worth(i) > worth(best) ? i : best));
}
