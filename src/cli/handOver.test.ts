import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawDay, galleryDay } from '../../test/builders/galleryDay.js';
import { writeAbout } from '../host/meeting/about.js';
import { makeMeetingFinals, makeMeetingProofs } from './handOver.js';
import { refuseQuietSuccess } from './handOverCommands.js';
import type { WholeDay } from './openWholeDay.js';

const state = galleryDay({ riders: 3 });
const kept = new Set([...state.keepers.byRider.values()].flat().map(({ bike }) => bike.frameId));
const originalIn = (folder: string, frame: string) =>
  join(folder, 'cards/a1', state.arrangement.exposures.find(({ frameId }) => frameId === frame)!.path);

let folder: string;
let whole: WholeDay;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-hand-over-'));
  await drawDay(state, folder);
  await writeAbout(folder, state.about);
  await writeFile(originalIn(folder, [...kept][0]!), 'torn');
  const day = { settled: async () => state, original: (frame: string) => originalIn(folder, frame) };
  whole = { day, meeting: { folder, about: state.about } } as unknown as WholeDay;
});
afterAll(() => rm(folder, { recursive: true }));

describe('what was refused', { timeout: 180_000 }, () => {
  it('FI8: is counted beside what was made, of proofs and of finals', async () => {
    const proofs = await makeMeetingProofs(whole, () => {});
    const finals = await makeMeetingFinals(whole, {}, () => {});
    for (const [made, noun] of [
      [proofs, 'proof'],
      [finals, 'final'],
    ] as const) {
      expect(made.refused).toBe(1);
      const [first, second] = made.sentence.split('\n');
      expect(first).toContain(`${kept.size - 1} ${noun}s in made/${noun}s`);
      expect(second).toMatch(/^Expected a whole picture in .*, 4 bytes, but it could not be read/);
    }
  });

  it('FI8: ends a command as a failure with the number, and nothing refused ends it well', () => {
    expect(() => refuseQuietSuccess(0)).not.toThrow();
    expect(() => refuseQuietSuccess(1)).toThrow('1 picture was refused, as said above; all others are done.');
    expect(() => refuseQuietSuccess(3)).toThrow('3 pictures were refused, as said above; all others are done.');
  });
});
