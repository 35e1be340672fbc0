import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Rider } from '../../arrange/types.js';
import type { BodyKey, FrameId, RiderKey } from '../../ids.js';
import type { WallMs } from '../../units.js';
import { namesOf, riderFolders } from './names.js';

const frame = (n: number) => n.toString(16).padStart(8, '0').repeat(4) as FrameId;
const exposure = (n: number, wall: number | null, body = 'Halvard|HX-7|0040117', fileNumber: number | null = 47) => ({
  frameId: frame(n),
  wall: wall as WallMs | null,
  body: body as BodyKey,
  fileNumber,
});
const AT = Date.UTC(2026, 8, 19, 10, 43, 12);
/** What no file system takes or some take for something else: signs, capitals, ends in a dot, devices' names of old. */
const SAFE = /^(?!(con|prn|aux|nul|com\d|lpt\d)$)[a-z0-9](?:[a-z0-9-]{0,62}[a-z0-9])?$/;

describe('names of files that go out', () => {
  it('FI1: are time, body and number, so that by name they stand as they were taken', () => {
    const names = [...namesOf([exposure(1, AT), exposure(2, AT + 1000, undefined, 9999), exposure(3, null)]).values()];
    expect(names[0]).toMatch(/^20260919-104312-hx-7-[0-9a-f]{2}-0047$/);
    expect(names[1]).toMatch(/^20260919-104313-hx-7-[0-9a-f]{2}-9999$/);
    expect(names[2]).toMatch(/^undated-hx-7-[0-9a-f]{2}-0047$/);
    expect([...names].sort()).toEqual(names);
  });

  it('FI1: tell two bodies of one model apart and say no serial number', () => {
    const names = namesOf([exposure(1, AT, 'Halvard|HX-7|0040117'), exposure(2, AT, 'Halvard|HX-7|0040118')]);
    expect(new Set(names.values()).size).toBe(2);
    expect([...names.values()].join()).not.toMatch(/0040117|0040118/);
  });

  it('FI1: are safe on any file system and never twice the same, whatever a camera calls itself', () => {
    const exposures = fc.uniqueArray(
      fc.record({
        frameId: fc.integer({ min: 1, max: 0xffffffff }).map(frame),
        wall: fc.option(fc.integer({ min: 0, max: 4e12 }).map((ms) => ms as WallMs)),
        body: fc
          .tuple(fc.string({ unit: 'grapheme' }), fc.string({ unit: 'grapheme' }))
          .map(([model, serial]) => `x|${model}|${serial}` as BodyKey),
        fileNumber: fc.option(fc.integer({ min: 1, max: 3 })),
      }),
      { selector: ({ frameId }) => frameId.slice(0, 8), maxLength: 30 },
    );
    fc.assert(
      fc.property(exposures, (all) => {
        const names = [...namesOf(all).values()];
        for (const name of names) expect(name).toMatch(SAFE);
        expect(new Set(names).size).toBe(all.length);
      }),
    );
  });
});

const rider = (key: string, code: string, livery: string, more: Partial<Rider> = {}): Rider =>
  ({ key: key as RiderKey, code, livery, number: null, numberSource: null, ...more }) as Rider;

describe('folders of riders', () => {
  it('FI2: say code, number and livery; a number that was only read is left out', () => {
    const folders = riderFolders([
      rider('a', 'N-k', 'black / orange, white leathers', { number: '46', numberSource: { kind: 'said' } }),
      rider('b', 'F-q', 'Grün', { number: '7', numberSource: { kind: 'guessed', confidence: 0.9, reasons: [] } }),
    ]);
    expect([...folders.values()]).toEqual(['n-k-46-black-orange-white-leathers', 'f-q-grun']);
  });

  it('FI2: are one a rider even where two would read the same', () => {
    const folders = riderFolders([rider('a', 'n-k', 'red'), rider('b', 'N-K', 'Red'), rider('c', '写', '真')]);
    expect([...folders.values()]).toEqual(['n-k-red', 'n-k-red-2', 'rider']);
  });
});
