import { describe, expect, it } from 'vitest';
import { readTruth } from '../../../../demo/day/truth.js';
import { hardDay, syntheticDay } from '../../../../demo/simulated-day/index.js';
import type { TrueFrame } from '../../../../demo/truthTypes.js';
import type { FrameMeasured, Subject } from '../../measure/types.js';
import { findApart, isSure } from './findApart.js';
import type { FrameThen } from './types.js';

const DEMO = await readTruth();

const measured = (subjects: readonly Subject[]): FrameMeasured =>
  ({ kind: 'measured', subjects, dividerScore: 0.02 }) as unknown as FrameMeasured;
const subject = (what: Subject['what'], box: Subject['box'], isRidden = false): Subject =>
  ({ what, box, ...(isRidden ? { riderBox: box } : {}) }) as Subject;

/** As a detector with faults sees it: of ten riders one is missed on the bike, of 25 bikes one altogether. */
function demoFrame({ wall, body, role, bikes, taken }: TrueFrame, i: number): FrameThen {
  const seen = bikes
    .filter((_, k) => (i + k) % 25 !== 0)
    .map(({ box }, k) => subject('motorcycle', box, (i + k) % 10 !== 0));
  return {
    wall: Date.parse(`${wall}Z`),
    body,
    role: role === 'divider' ? 'divider' : role === 'damaged' ? 'unmeasurable' : seen.length > 0 ? 'bike' : 'scenery',
    measured: role === 'damaged' ? null : measured(seen),
    metadata: {
      lens: taken === undefined ? {} : { focalLengthMm: taken.focalLengthMm },
      exposure: taken === undefined ? {} : { shutterS: taken.shutterS },
    },
  };
}
const demoDay = DEMO.frames.map(demoFrame).sort((a, b) => a.wall! - b.wall!);

const MIDDAY = Date.parse('2031-09-20T11:30:00Z');
const portraitAt = (wall: number, change: Partial<FrameThen> = {}): FrameThen => ({
  wall,
  body: demoDay[0]!.body,
  role: 'scenery',
  measured: measured([subject('person', [0.3, 0.1, 0.3, 0.8])]),
  metadata: { lens: { focalLengthMm: 50 }, exposure: { shutterS: 1 / 125 } },
  ...change,
});
/** As far as it is kept apart without a word. */
const surelyApart = (frames: readonly FrameThen[]) =>
  findApart(frames).map((apart) => (apart !== null && isSure(apart) ? apart : null));
const apartAmongDemo = (frame: FrameThen) => {
  const all = [...demoDay, frame].sort((a, b) => a.wall! - b.wall!);
  return surelyApart(all)[all.indexOf(frame)]!;
};

describe('which frames are apart', () => {
  it('AR41: none of the invented meeting, nor of hard days without a word of lens or shutter', () => {
    expect(demoDay).toHaveLength(305);
    expect(findApart(demoDay).filter((apart) => apart !== null)).toEqual([]);
    for (const seed of [41, 42]) {
      const { input } = syntheticDay(hardDay('s50', seed));
      const frames = input.files.map(({ metadata }): FrameThen => {
        const pixels = input.pixels.get(metadata.frameId) as FrameMeasured;
        const { captured, lens, exposure, body } = metadata;
        const wall =
          captured.kind === 'recorded' ? Date.parse(`${captured.text.replace(/:/, '-').replace(/:/, '-')}Z`) : null;
        const role = pixels.dividerScore >= 0.5 ? 'divider' : pixels.subjects.length > 0 ? 'bike' : 'scenery';
        return { wall, body: body.serial ?? '', role, measured: pixels, metadata: { lens, exposure } };
      });
      expect(frames.length).toBeGreaterThan(4000);
      expect(findApart(frames).filter((apart) => apart !== null)).toEqual([]);
    }
  });

  it('AR41: a portrait at lunch is; the same picture in the middle of a session, unmeasured, without a time or as a divider is not', () => {
    expect(apartAmongDemo(portraitAt(MIDDAY))).toMatchObject({ is: 'portrait' });
    const inSession = demoDay[150]!.wall! + 1;
    expect(apartAmongDemo(portraitAt(inSession))).toBeNull();
    expect(apartAmongDemo(portraitAt(MIDDAY, { measured: null, role: 'unmeasured' }))).toBeNull();
    expect(apartAmongDemo(portraitAt(MIDDAY, { role: 'divider' }))).toBeNull();
    expect(surelyApart([...demoDay, portraitAt(0, { wall: null })]).at(-1)).toBeNull();
  });

  it('AR41: one clue alone never keeps a frame apart, not even flash; somebody on a bike speaks against', () => {
    const long = { lens: { focalLengthMm: 180 }, exposure: { shutterS: 1 / 1000 } };
    const ridden = measured([subject('motorcycle', [0.3, 0.3, 0.4, 0.4], true)]);
    expect(apartAmongDemo(portraitAt(MIDDAY, { metadata: long }))).toBeNull();
    const flashed = { ...long, exposure: { shutterS: 1 / 1000, flash: 'fired' } } as const;
    expect(apartAmongDemo(portraitAt(MIDDAY, { measured: ridden, role: 'bike', metadata: flashed }))).toBeNull();
  });

  it('AR41: a bike left in the paddock an hour before anybody rides is, by its lens and shutter; far off, or as riders are taken, it is not', () => {
    const early = demoDay[0]!.wall! - 3_600_000;
    const left = (height: number, change: Partial<FrameThen> = {}) =>
      apartAmongDemo(
        portraitAt(early, {
          role: 'bike',
          measured: measured([subject('motorcycle', [0.2, 0.2, 0.6, height])]),
          ...change,
        }),
      );
    expect(left(0.6)).toMatchObject({ is: 'paddock' });
    expect(left(0.1)).toBeNull();
    expect(left(0.6, { metadata: { lens: { focalLengthMm: 180 }, exposure: { shutterS: 1 / 125 } } })).toBeNull();
  });

  it('AR41: while neighbours wait to be measured nobody says that nobody was riding', () => {
    const waiting: FrameThen = { ...portraitAt(MIDDAY + 30_000), measured: null, role: 'unmeasured' };
    const portrait = portraitAt(MIDDAY);
    expect(surelyApart([...demoDay, portrait, waiting])[demoDay.length]).toBeNull();
  });

  it('AR45: a portrait within three minutes of a rider is perhaps apart; one with a rider less than a minute before and after is not', () => {
    const perhaps = (wall: number) => {
      const frame = portraitAt(wall);
      const all = [...demoDay, frame].sort((one, other) => one.wall! - other.wall!);
      const found = findApart(all);
      expect(found.filter((apart) => apart !== null && isSure(apart))).toEqual([]);
      return found[all.indexOf(frame)];
    };
    const walls = demoDay
      .filter(({ role, body }) => role === 'bike' && body === demoDay[0]!.body)
      .map(({ wall }) => wall!);
    const afterRider = (least: number, most: number): number =>
      walls.find((wall, i) => walls[i + 1]! - wall > least && walls[i + 1]! - wall < most)!;
    // A minute and a half after the last rider of a session, before five minutes more of nobody.
    const between = perhaps(afterRider(300_000, 900_000) + 90_000);
    expect(between).toMatchObject({ is: 'portrait', source: { kind: 'guessed' } });
    if (between?.source.kind !== 'guessed') return;
    expect(between.source.confidence).toBeGreaterThan(0.5);
    expect(between.source.confidence).toBeLessThan(0.9);
    expect(between.source.reasons).toContain('a person, no bike');
    expect(perhaps(afterRider(20_000, 50_000) + 10_000)).toBeNull();
  });

  it('AR45: on the invented meeting nobody is asked', () => {
    expect(findApart(demoDay).filter((apart) => apart !== null)).toEqual([]);
  });
});
