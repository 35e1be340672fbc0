import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FileId, FillId, FrameId } from '../../core/ids.js';
import type { FileMetadata } from '../../core/measure/types.js';
import { type FileToMeasure, type MeasuredSoFar, measureOrder } from './order.js';

const NOTHING: MeasuredSoFar = { preview: new Set(), full: new Set(), wantsFull: new Set() };

interface Shot {
  readonly name: string;
  /** `HH:MM:SS`, with `.sub` or without; null for no time. */
  readonly time: string | null;
  readonly frame?: string;
  readonly serial?: string;
  readonly fill?: string;
  readonly media?: FileMetadata['media'];
}

const file = ({ name, time, frame = name, serial = '1', fill = 'A', media = 'jpeg' }: Shot): FileToMeasure => {
  const [clock, subSec] = (time ?? '').split('.') as [string, string?];
  const recorded = { kind: 'recorded', text: `2026:05:30 ${clock}` } as const;
  return {
    fileId: `${fill}/${name}` as FileId,
    fill: fill as FillId,
    path: `DCIM/100HX7_A/${name}`,
    metadata: {
      v: 1,
      fileId: `${fill}/${name}` as FileId,
      frameId: frame as FrameId,
      media,
      bytes: 1,
      captured:
        time === null
          ? { kind: 'absent', reason: 'no-capture-time' }
          : subSec === undefined
            ? recorded
            : { ...recorded, subSec },
      body: { make: 'Halvard Optical', model: 'HX-7', serial },
      lens: {},
      exposure: {},
      notes: [],
    },
  };
};

const namesOf = (files: readonly FileToMeasure[], done: Partial<MeasuredSoFar> = {}): string[] =>
  measureOrder(files, { ...NOTHING, ...done }).map(
    ({ file: { path }, tier }) => `${path.split('/').at(-1)}${tier === 'full' ? ' full' : ''}`,
  );

const setOf = (...frames: string[]): ReadonlySet<FrameId> => new Set(frames as FrameId[]);

const burst = (first: number, time: string, count: number): FileToMeasure[] =>
  Array.from({ length: count }, (_, index) =>
    file({ name: `HX7_${String(first + index).padStart(4, '0')}.JPG`, time: `${time}.${index}` }),
  );

describe('the order of measuring', () => {
  it('MS13: one frame of each burst comes before any second one, its middle first', () => {
    const files = [...burst(1, '10:00:00', 5), ...burst(6, '10:01:00', 3)];
    expect(namesOf(files)).toEqual([
      'HX7_0003.JPG',
      'HX7_0007.JPG',
      'HX7_0001.JPG',
      'HX7_0002.JPG',
      'HX7_0004.JPG',
      'HX7_0005.JPG',
      'HX7_0006.JPG',
      'HX7_0008.JPG',
    ]);
  });

  it('MS13: a burst with a frame measured waits for the bursts that have none', () => {
    const files = [...burst(1, '10:00:00', 3), ...burst(4, '10:01:00', 1)];
    expect(namesOf(files, { preview: setOf('HX7_0001.JPG') })).toEqual([
      'HX7_0004.JPG',
      'HX7_0002.JPG',
      'HX7_0003.JPG',
    ]);
  });

  it('MS13: two bodies shooting at once are two bursts, and so are two cards without serials', () => {
    const two = [
      file({ name: 'HX7_0001.JPG', time: '10:00:00.1' }),
      file({ name: 'HX7_0002.JPG', time: '10:00:00.3' }),
      file({ name: 'HX7_0501.JPG', time: '10:00:00.2', serial: '2' }),
    ];
    expect(namesOf(two)).toEqual(['HX7_0001.JPG', 'HX7_0501.JPG', 'HX7_0002.JPG']);
  });

  it('MS13: within one second without sub-seconds the file number tells the order', () => {
    const files = [3, 1, 2].map((number) => file({ name: `HX7_000${number}.JPG`, time: '10:00:00' }));
    expect(namesOf(files)).toEqual(['HX7_0002.JPG', 'HX7_0001.JPG', 'HX7_0003.JPG']);
  });

  it('MS13: full resolution comes last, only for the frames wanted and only once', () => {
    const files = [...burst(1, '10:00:00', 2), ...burst(3, '10:05:00', 1)];
    const wantsFull = setOf('HX7_0001.JPG', 'HX7_0003.JPG');
    expect(namesOf(files, { preview: setOf('HX7_0001.JPG', 'HX7_0002.JPG'), wantsFull })).toEqual([
      'HX7_0003.JPG',
      'HX7_0001.JPG full',
    ]);
    const preview = setOf('HX7_0001.JPG', 'HX7_0002.JPG', 'HX7_0003.JPG');
    expect(namesOf(files, { preview, wantsFull, full: wantsFull })).toEqual([]);
  });

  it('MS13: a raw beside its JPEG is not measured twice; alone it is', () => {
    const files = [
      file({ name: 'HX7_0001.JPG', time: '10:00:00' }),
      file({ name: 'HX7_0001.DNG', time: '10:00:00', media: 'raw' }),
      file({ name: 'HX7_0002.DNG', time: '10:05:00', media: 'raw' }),
    ];
    expect(namesOf(files)).toEqual(['HX7_0001.JPG', 'HX7_0002.DNG']);
  });

  it('MS13: a frame in both slots is measured once', () => {
    const files = ['A', 'B'].map((fill) => file({ name: 'HX7_0001.JPG', time: '10:00:00', frame: 'same', fill }));
    expect(namesOf(files)).toEqual(['HX7_0001.JPG']);
  });

  it('MS13: clips and side files are not measured; frames without a time are, last', () => {
    const files = [
      file({ name: 'C0001.MP4', time: null, media: 'clip' }),
      file({ name: 'HX7_0009.JPG', time: null }),
      file({ name: 'HX7_0001.JPG', time: '10:00:00' }),
      file({ name: 'HX7_0001.XMP', time: null, media: 'side-file' }),
    ];
    expect(namesOf(files)).toEqual(['HX7_0001.JPG', 'HX7_0009.JPG']);
  });

  it('MS13: no frame is lost or doubled, in whatever order files come and however far the measuring is', () => {
    const shots = fc.uniqueArray(
      fc.record({
        number: fc.integer({ min: 1, max: 9999 }),
        second: fc.integer({ min: 0, max: 59 }),
        serial: fc.constantFrom('1', '2'),
        isTimed: fc.boolean(),
        isDone: fc.boolean(),
      }),
      { selector: ({ number }) => number, maxLength: 40 },
    );
    fc.assert(
      fc.property(shots, (list) => {
        const files = list.map(({ number, second, serial, isTimed }) =>
          file({
            name: `HX7_${String(number).padStart(4, '0')}.JPG`,
            time: isTimed ? `10:00:${String(second).padStart(2, '0')}` : null,
            serial,
          }),
        );
        const done = new Set(files.filter((_, index) => list[index]?.isDone).map(({ metadata }) => metadata.frameId));
        const steps = measureOrder(files, { ...NOTHING, preview: done });
        expect(new Set(steps.map(({ file: { fileId } }) => fileId)).size).toBe(steps.length);
        expect(steps).toHaveLength(files.length - done.size);
      }),
    );
  });
});
