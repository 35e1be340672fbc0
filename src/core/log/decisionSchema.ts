/** What a decision must look like to have an effect. Used where lines are read and where the desk takes them in. */
import { z } from 'zod';

import { APART_SAID } from './apartSaid.js';
import { cropOfMembers, finishMembers, finishOfMembers } from './finishSchemas.js';
import { MINOR_SAID } from './minorSaid.js';
import { circuit, circuitChange, entry, pause, sky, slip, slot, stay, wish } from './planSchemas.js';
import type { Decision } from './types.js';

const text = z.string().min(1);
const number = z.number();
const unit = z.number().min(0).max(1);

const point = z.looseObject({
  file: text,
  x: unit,
  y: unit,
  box: z.tuple([number, number, number, number]).optional(),
  aspect: z.number().positive().optional(),
});
const points = z.array(point);
const indices = z.array(z.number().int().nonnegative());

const timetable = z.looseObject({
  groups: z.array(z.looseObject({ key: text, name: z.string() })),
  slots: z.array(slot),
  slipRule: z.enum(['clock-fixed', 'sliding']),
  fastestLapMs: z.number().positive().optional(),
  pauses: z.array(pause).optional(),
  curfews: z.array(z.number()).optional(),
});

const shape = <Kind extends string, Shape extends z.ZodRawShape>(kind: Kind, members: Shape) =>
  z.looseObject({ kind: z.literal(kind), ...members });

interface Named {
  readonly file?: string | undefined;
  readonly rider?: string | undefined;
  readonly person?: string | undefined;
}
const wantsOneOf = ({ file, rider, person }: Named): boolean => [file, rider, person].some((one) => one !== undefined);

/** One schema for every kind that this version knows. */
export const decisionSchema = z.discriminatedUnion('kind', [
  shape('same-rider', { points: points.min(2) }),
  shape('different-riders', { points: points.min(2) }),
  shape('line-up', { of: point, shown: points, chosen: indices, unsure: indices }),
  shape('rider-is', {
    point,
    rider: text.optional(),
    person: text.optional(),
    number: text.optional(),
    class: text.optional(),
  }),
  shape('rider-minted', { rider: text, points, shownAs: text.optional() }),
  shape('boundary', { at: number, is: z.enum(['here', 'not-here']) }),
  shape('session-is', { at: number, group: text }),
  shape('head-count', { at: number, group: text, riders: z.number().int().nonnegative() }),
  shape('instructor', { point, is: z.boolean() }),
  shape('body-clock', {
    body: text,
    fromFrame: text.optional(),
    toFrame: text.optional(),
    offsetMs: number,
    driftPpm: number.optional(),
  }),
  shape('fill-body', { fill: text, body: text }),
  shape('stood-at', { spot: text, body: text.optional(), from: number, to: number }),
  shape('timetable', { timetable }),
  shape('spots', { spots: z.array(z.looseObject({ id: text, number: z.number().int(), name: z.string() })) }),
  shape('circuit', { circuit }),
  shape('circuit-edit', { of: text, ...circuitChange }),
  shape('permit', { has: z.boolean() }),
  shape('slip', { slip }),
  shape('entries', { entries: z.array(entry) }),
  shape('wishes', {
    wishes: z.array(wish),
    photographers: z.number().int().positive().optional(),
    hasVehicle: z.boolean().optional(),
  }),
  shape('speed-at', { spot: text, group: text, kmh: z.number().positive() }),
  shape('sky', { from: number, to: number, is: sky }),
  shape('plan-taken', { at: number, stays: z.array(stay) }),
  shape('got', {
    at: number,
    spot: text.optional(),
    rider: text.optional(),
    number: text.optional(),
    class: text.optional(),
  }),
  shape('card-answered', { frame: text, is: z.enum(['taken', 'not-taken']) }),
  shape('apart', { file: text, is: z.enum(APART_SAID) }),
  shape('keep', { file: text, point: point.optional() }),
  shape('leave-out', { file: text, point: point.optional() }),
  shape('choose-rules', {
    mostPerRider: z.number().int().positive().optional(),
    mostPerSpot: z.number().int().positive().optional(),
    mostInAll: z.number().int().positive().optional(),
    leastPerRider: z.number().int().nonnegative().optional(),
  }),
  shape('gone-through', { of: point, files: z.array(text), unseen: z.literal(true).optional() }),
  shape('finished-elsewhere', { file: text, picture: text, extension: z.string().regex(/^[a-z]{3,4}$/) }),
  shape('finish', finishMembers),
  shape('finish-of', { file: text, ...finishOfMembers }),
  shape('crop-of', { file: text, ...cropOfMembers }),
  shape('settled', { rider: text, files: z.array(text) }),
  shape('take-down', { file: text.optional(), rider: text.optional(), person: text.optional() }).refine(
    wantsOneOf,
    'wants a file, a rider or a person',
  ),
  shape('held', { file: text }),
  shape('released', { file: text }),
  shape('minor', { rider: text.optional(), person: text.optional(), is: z.enum(MINOR_SAID) }).refine(
    wantsOneOf,
    'wants a rider or a person',
  ),
  shape('own-link', { rider: text, salt: text.nullable() }),
  shape('published', { edition: text, riders: z.record(z.string(), z.array(text)) }),
  shape('calibration', { calibration: z.record(z.string(), number) }),
  shape('seen', { writers: z.record(z.string(), z.number().int().nonnegative()) }),
  shape('withdraw', { gesture: text }),
]);

const KINDS: ReadonlySet<string> = new Set(decisionSchema.options.map((option) => String(option.shape.kind.value)));

export const isKnownKind = (kind: string): kind is Decision['kind'] => KINDS.has(kind);

export type CheckedDecision =
  | { readonly kind: 'decision'; readonly decision: Decision }
  | { readonly kind: 'malformed'; readonly sentence: string };

/** Checks a decision of a known kind; members unknown here are kept. */
export function checkDecision(value: unknown): CheckedDecision {
  const answer = decisionSchema.safeParse(value);
  if (answer.success) return { kind: 'decision', decision: value as Decision };
  const issue = answer.error.issues[0];
  const where = ['decision', ...(issue?.path ?? [])].join('.');
  return { kind: 'malformed', sentence: `Expected a decision that can be read, but ${where}: ${issue?.message}.` };
}
