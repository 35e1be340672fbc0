/** What a decision about the plan must look like: circuit, timetable's slips, entries, wishes. */
import { z } from 'zod';

const text = z.string().min(1);
const number = z.number();
const date = z.string().regex(/^\d{4}-\d{2}-\d{2}$/);

const place = z.looseObject({ longitudeDeg: z.number().min(-180).max(180), latitudeDeg: z.number().min(-90).max(90) });
const access = z.enum(['anyone', 'with-permit', 'nobody']);

const spot = z.looseObject({
  id: text,
  number: z.number().int().positive(),
  name: z.string(),
  place,
  viewAzimuthDeg: number,
  heightM: number.optional(),
  distanceM: number.optional(),
  aspect: z.enum(['head-on', 'three-quarter', 'side-on', 'going-away']).optional(),
  sideSeen: z.enum(['left', 'right', 'both']).optional(),
  moments: z.array(z.enum(['entry', 'apex', 'exit', 'straight'])).optional(),
  needsPermit: z.boolean().optional(),
  hasShade: z.boolean().optional(),
  focalMm: z.tuple([number, number]).optional(),
  caution: z.string().optional(),
});

const way = z.looseObject({
  id: text,
  line: z.array(place).min(2),
  kind: z.enum(['path', 'service-road']),
  crossing: z.enum(['none', 'bridge', 'tunnel']),
  onFoot: access,
  byVehicle: access,
  saidMinutes: z.looseObject({ onFoot: number.optional(), byVehicle: number.optional() }).optional(),
});

export const circuit = z.looseObject({
  name: text,
  zone: text,
  direction: z.enum(['clockwise', 'anticlockwise']),
  centreline: z.array(place).min(3),
  widthM: z.number().positive().optional(),
  overItself: z.array(place).optional(),
  bends: z.array(z.looseObject({ name: z.string(), alongM: number })),
  ways: z.array(way),
  spots: z.array(spot),
  paddock: place,
  lapRecordMs: z.number().positive().optional(),
});

const withoutOf = <Name extends string>(names: readonly [Name, ...Name[]]) => ({
  without: z.array(z.enum(names)).optional(),
});

export const circuitChange = {
  changed: circuit
    .omit({ spots: true, ways: true })
    .partial()
    .extend(withoutOf(['widthM', 'overItself', 'lapRecordMs']))
    .optional(),
  line: z.looseObject({ between: z.tuple([place, place]), put: z.array(place) }).optional(),
  spots: z
    .array(
      spot
        .partial()
        .extend({ id: text })
        .extend(
          withoutOf([
            'heightM',
            'distanceM',
            'aspect',
            'sideSeen',
            'moments',
            'needsPermit',
            'hasShade',
            'focalMm',
            'caution',
          ]),
        ),
    )
    .optional(),
  ways: z
    .array(
      way
        .partial()
        .extend({ id: text })
        .extend(withoutOf(['saidMinutes'])),
    )
    .optional(),
  gone: z.looseObject({ spots: z.array(text).optional(), ways: z.array(text).optional() }).optional(),
};

export const slot = z.looseObject({
  name: text,
  group: text,
  start: number,
  end: number,
  isSighting: z.boolean().optional(),
  isOpenPitLane: z.boolean().optional(),
});

export const pause = z.looseObject({ kind: z.enum(['lunch', 'pause']), name: z.string(), start: number, end: number });

export const slip = z.discriminatedUnion('kind', [
  z.looseObject({ kind: z.literal('late'), slot: text, on: date.optional(), byMs: number }),
  z.looseObject({ kind: z.literal('red-flag'), at: number, resumesAt: number.optional() }),
  z.looseObject({ kind: z.literal('lunch-shorter'), at: number, byMs: number }),
  z.looseObject({
    kind: z.literal('group-added'),
    group: z.looseObject({ key: text, name: text }),
    slots: z.array(slot),
  }),
  z.looseObject({ kind: z.literal('dropped'), slot: text, on: date.optional() }),
]);

export const entry = z.looseObject({
  event: z.string(),
  class: z.string(),
  number: z.string(),
  wants: z.string().optional(),
  person: text.optional(),
});

export const wish = z.discriminatedUnion('kind', [
  z.looseObject({ kind: z.literal('pin'), stretch: text, spot: text }),
  z.looseObject({ kind: z.literal('forbid'), stretch: text, spot: text }),
  z.looseObject({ kind: z.literal('weigh-spot'), spot: text, times: z.number().nonnegative() }),
  z.looseObject({ kind: z.literal('weigh-group'), group: text, times: z.number().nonnegative() }),
  z.looseObject({ kind: z.literal('closed'), spot: text, from: number, to: number }),
  z.looseObject({ kind: z.literal('rest'), from: number, to: number }),
  z.looseObject({ kind: z.literal('rain'), from: number, to: number }),
]);

export const sky = z.enum(['clear', 'thin-cloud', 'overcast']);

export const stay = z.looseObject({ photographer: z.number().int(), stretch: text, spot: text.nullable() });
