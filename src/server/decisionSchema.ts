/** The decisions a screen may send, parsed once at the edge. Past this the types are trusted. */
import { z } from 'zod';
import { APART_SAID } from '../core/log/apartSaid.js';
import type { Finish } from '../core/log/finishSaid.js';
import { cropOfMembers, finishMembers, finishOfMembers } from '../core/log/finishSchemas.js';
import { MINOR_SAID } from '../core/log/minorSaid.js';
import { circuit, circuitChange, entry, pause, sky, slip, stay, wish } from '../core/log/planSchemas.js';
import type { Decision } from '../core/log/types.js';
import type { GestureRequest } from './types.js';

const hash = z.string().regex(/^[0-9a-f]{32}$/, 'expected 32 hex digits');
const share = z.number().min(0).max(1);
const wall = z.number().int();
const quota = (most: number) => z.number().int().min(1, 'expected 1 or more').max(most, `expected ${most} or fewer`);
const shortText = z.string().min(1).max(200);

const bikePoint = z.strictObject({
  file: hash,
  x: share,
  y: share,
  box: z.tuple([share, share, share, share]).optional(),
  aspect: z.number().positive().optional(),
});
/** Made by the screen. */
export const uuid = z
  .string()
  .regex(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/, 'expected a UUID of version 7');
const points = z.array(bikePoint).min(2).max(500);

const timetable = z.strictObject({
  groups: z
    .array(z.strictObject({ key: shortText, name: shortText }))
    .min(1)
    .max(20),
  slots: z
    .array(
      z
        .strictObject({
          name: shortText,
          group: shortText,
          start: wall,
          end: wall,
          isSighting: z.boolean().optional(),
          isOpenPitLane: z.boolean().optional(),
        })
        .refine((slot) => slot.end > slot.start, 'expected the end of a session after its start'),
    )
    .max(200),
  slipRule: z.enum(['clock-fixed', 'sliding']),
  fastestLapMs: z.number().positive().optional(),
  pauses: z.array(pause).max(60).optional(),
  curfews: z.array(wall).max(60).optional(),
});

const decision = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('same-rider'), points }),
  z.strictObject({ kind: z.literal('different-riders'), points }),
  z.strictObject({
    kind: z.literal('line-up'),
    of: bikePoint,
    shown: z.array(bikePoint).min(1).max(24),
    chosen: z.array(z.number().int().min(0)),
    unsure: z.array(z.number().int().min(0)),
  }),
  z.strictObject({
    kind: z.literal('rider-is'),
    point: bikePoint,
    /** Who holds the number card beside it; names stand in `people/`. */
    person: shortText.optional(),
    number: z.string().max(8).optional(),
    class: z.string().max(40).optional(),
  }),
  z.strictObject({
    kind: z.literal('finished-elsewhere'),
    file: hash,
    picture: hash,
    extension: z.string().regex(/^[a-z]{3,4}$/),
  }),
  z.strictObject({ kind: z.literal('card-answered'), frame: hash, is: z.enum(['taken', 'not-taken']) }),
  z.strictObject({ kind: z.literal('apart'), file: hash, is: z.enum(APART_SAID) }),
  z.strictObject({ kind: z.literal('boundary'), at: wall, is: z.enum(['here', 'not-here']) }),
  z.strictObject({ kind: z.literal('session-is'), at: wall, group: shortText }),
  z.strictObject({
    kind: z.literal('head-count'),
    at: wall,
    group: shortText,
    riders: z.number().int().min(0).max(1000),
  }),
  z.strictObject({ kind: z.literal('instructor'), point: bikePoint, is: z.boolean() }),
  z.strictObject({
    kind: z.literal('body-clock'),
    body: shortText,
    fromFrame: hash.optional(),
    toFrame: hash.optional(),
    offsetMs: z.number().int(),
    driftPpm: z.number().optional(),
  }),
  z
    .strictObject({
      kind: z.literal('stood-at'),
      spot: shortText,
      body: shortText.optional(),
      from: wall,
      to: wall,
    })
    .refine((stand) => stand.to > stand.from, 'expected the end of a stand after its start'),
  z.strictObject({ kind: z.literal('timetable'), timetable }),
  z.strictObject({
    kind: z.literal('spots'),
    spots: z.array(z.strictObject({ id: shortText, number: z.number().int().positive(), name: shortText })).max(99),
  }),
  z.strictObject({ kind: z.literal('finish'), ...finishMembers }),
  z.strictObject({ kind: z.literal('finish-of'), file: hash, ...finishOfMembers }),
  z.strictObject({ kind: z.literal('crop-of'), file: hash, ...cropOfMembers }),
  z.strictObject({ kind: z.literal('settled'), rider: uuid, files: z.array(hash).min(1).max(5000) }),
  z.strictObject({ kind: z.literal('circuit'), circuit }),
  z.strictObject({ kind: z.literal('circuit-edit'), of: shortText, ...circuitChange }),
  z.strictObject({ kind: z.literal('permit'), has: z.boolean() }),
  z.strictObject({ kind: z.literal('slip'), slip }),
  z.strictObject({ kind: z.literal('entries'), entries: z.array(entry).max(2000) }),
  z.strictObject({
    kind: z.literal('wishes'),
    wishes: z.array(wish).max(500),
    photographers: z.number().int().min(1).max(9).optional(),
    hasVehicle: z.boolean().optional(),
  }),
  z.strictObject({
    kind: z.literal('speed-at'),
    spot: shortText,
    group: shortText,
    kmh: z.number().min(5, 'a speed from 5 km/h').max(400, 'a speed up to 400 km/h'),
  }),
  z.strictObject({ kind: z.literal('sky'), from: wall, to: wall, is: sky }),
  z.strictObject({ kind: z.literal('plan-taken'), at: wall, stays: z.array(stay).max(2000) }),
  z.strictObject({
    kind: z.literal('got'),
    at: wall,
    spot: shortText.optional(),
    rider: uuid.optional(),
    number: z.string().max(8).optional(),
    class: z.string().max(40).optional(),
  }),
  z.strictObject({ kind: z.literal('keep'), file: hash, point: bikePoint.optional() }),
  z.strictObject({ kind: z.literal('leave-out'), file: hash, point: bikePoint.optional() }),
  z
    .strictObject({
      kind: z.literal('choose-rules'),
      mostPerRider: quota(200).optional(),
      mostPerSpot: quota(200).optional(),
      mostInAll: quota(100_000).optional(),
      leastPerRider: z.number().int().min(0).max(200).optional(),
    })
    .refine(
      ({ mostPerRider, leastPerRider }) => (leastPerRider ?? 0) <= (mostPerRider ?? 200),
      'expected the least for a rider to be no more than the most',
    ),
  z.strictObject({
    kind: z.literal('gone-through'),
    of: bikePoint,
    files: z.array(hash).max(5000),
    unseen: z.literal(true).optional(),
  }),
  z.strictObject({
    kind: z.literal('rider-minted'),
    rider: uuid,
    points: z.array(bikePoint).min(1).max(12),
    shownAs: shortText.optional(),
  }),
  z
    .strictObject({
      kind: z.literal('take-down'),
      file: hash.optional(),
      rider: shortText.optional(),
      person: shortText.optional(),
    })
    .refine(
      ({ file, rider, person }) => [file, rider, person].filter((one) => one !== undefined).length === 1,
      'expected a file, a rider or a person',
    ),
  z.strictObject({ kind: z.literal('held'), file: hash }),
  z.strictObject({ kind: z.literal('released'), file: hash }),
  z
    .strictObject({
      kind: z.literal('minor'),
      rider: shortText.optional(),
      person: shortText.optional(),
      is: z.enum(MINOR_SAID),
    })
    .refine(({ rider, person }) => (rider === undefined) !== (person === undefined), 'expected a rider or a person'),
]);

const gestureRequest = z.strictObject({
  gesture: uuid,
  /** A long burst taken off a sheet is three lines a frame. */
  decisions: z.array(decision).min(1).max(2000),
});

export const undoRequest = z.strictObject({ gesture: shortText.optional() });
export const bringInRequest = z.strictObject({ cards: z.array(z.string().min(1).max(4096)).min(1).max(16) });
export const pairRequest = z.strictObject({ token: z.string().min(1).max(400) });

/** A path and a sentence for the first thing that was wrong, as `decisions[0].points: …`. */
export const firstTrouble = (error: z.ZodError): string => {
  const issue = error.issues[0];
  if (!issue) return 'expected something else';
  const path = issue.path.map((part) => (typeof part === 'number' ? `[${part}]` : `.${String(part)}`)).join('');
  return `${path.replace(/^\./, '') || 'the request'}: ${issue.message}`;
};

export type Parsed<T> =
  | { readonly kind: 'parsed'; readonly value: T }
  | { readonly kind: 'wrong'; readonly sentence: string };

/** A finish that is tried on a picture, as JSON in the address. */
export function parseFinish(text: string | undefined): Parsed<Finish> {
  const parsed = finishMembers.finish.safeParse(jsonOf(text));
  if (!parsed.success)
    return {
      kind: 'wrong',
      sentence: `Expected a finish to try, but ${firstTrouble(parsed.error)}. Reload the sheet.`,
    };
  return { kind: 'parsed', value: parsed.data };
}

const jsonOf = (text: string | undefined): unknown => {
  try {
    return JSON.parse(text ?? 'null');
  } catch {
    return null;
  }
};

export function parseGesture(input: unknown): Parsed<GestureRequest> {
  const parsed = gestureRequest.safeParse(input);
  if (!parsed.success)
    return {
      kind: 'wrong',
      sentence: `Nothing was written down. ${firstTrouble(parsed.error)}. Reload the page and say it again.`,
    };
  const { gesture, decisions } = parsed.data;
  const strays = decisions.flatMap((said) =>
    said.kind === 'line-up' ? [...said.chosen, ...said.unsure].filter((i) => i >= said.shown.length) : [],
  );
  if (strays.length > 0)
    return {
      kind: 'wrong',
      sentence: `Nothing was written down. The line-up chose number ${strays[0]}, which was not shown.`,
    };
  // Brands are given here, at the edge, to strings and numbers whose form was just checked.
  return {
    kind: 'parsed',
    value: { gesture, decisions } as unknown as { gesture: GestureRequest['gesture']; decisions: Decision[] },
  };
}
