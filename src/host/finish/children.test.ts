import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawDay, galleryDay } from '../../../test/builders/galleryDay.js';
import { planProof } from '../../core/finish/index.js';
import { startFinisher } from './finisher.js';
import { FinishError } from './index.js';
import { makeProofsWith } from './makeProofs.js';

const childIn = (name: string) => new URL(`../../../test/fixtures/finish/${name}Child.ts`, import.meta.url);

/** Three riders; keepers are chosen of six frames. */
const day = galleryDay({ riders: 3 });
let root: string;

beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-finish-children-'));
});
afterAll(() => rm(root, { recursive: true }));

const kept = [...new Set([...day.keepers.byRider.values()].flat().map(({ bike }) => bike.frameId))];
const originalOf = (folder: string, frame: (typeof kept)[number]): string =>
  join(folder, 'cards/a1', day.arrangement.exposures.find(({ frameId }) => frameId === frame)!.path);

/** A meeting in which the second keeper's original begins with a word the nasty child knows. */
async function meetingWith(word: string): Promise<{ folder: string; second: (typeof kept)[number] }> {
  const folder = join(root, word.replace(' ', '-'));
  await drawDay(day, folder);
  await writeFile(originalOf(folder, kept[1]!), word.padEnd(12));
  return { folder, second: kept[1]! };
}

async function finish(folder: string, child = 'nastyFinisher', timeLimitMs = 60_000) {
  const finisher = startFinisher(2, { childModule: childIn(child), timeLimitMs });
  try {
    return await makeProofsWith(finisher, day, { meetingFolder: folder });
  } finally {
    await finisher.close();
  }
}

/** Children are started from TypeScript here, which takes a busy machine a while. */
describe('finishing in child processes', { timeout: 180_000 }, () => {
  it('HO20: an original that kills its child costs one proof, named in a sentence', async () => {
    const { folder, second } = await meetingWith('kills');
    const report = await finish(folder);
    expect(report).toMatchObject({ made: kept.length - 1, failed: [{ frameId: second }], wasStopped: false });
    expect(report.failed[0]!.sentence).toMatch(
      /^Expected a whole picture in \/.*\/INV_\d{4}\.JPG, but twice the finisher ended unexpectedly \(SIGKILL\); no proof/,
    );
    expect(await readdir(join(folder, 'made/proofs'))).toHaveLength(kept.length - 1);
  });

  it('HO20: an original that takes for ever costs one proof too', async () => {
    const { folder, second } = await meetingWith('hangs');
    const report = await finish(folder, 'nastyFinisher', 8000);
    expect(report).toMatchObject({ made: kept.length - 1, failed: [{ frameId: second }] });
    expect(report.failed[0]!.sentence).toContain('twice the finisher took too long and was stopped');
  });

  it('HO20: what killed a child once is tried again, and the answer is that of the second child', async () => {
    const { folder, second } = await meetingWith('kills once');
    const report = await finish(folder);
    expect(report).toMatchObject({ made: kept.length - 1, failed: [{ frameId: second }] });
    // The first child left another word in the file: this is what the second one found there.
    expect(report.failed[0]!.sentence).toMatch(
      /^Expected a whole picture in \/.*\/INV_\d{4}\.JPG, 5 bytes, but it could not/,
    );
  });

  it('HO20: a child killed from outside costs nothing', async () => {
    const folder = join(root, 'outside');
    await drawDay(day, folder);
    const finisher = startFinisher(2);
    const making = makeProofsWith(finisher, day, { meetingFolder: folder });
    while (finisher.busyPids.length === 0) await new Promise((resolve) => setTimeout(resolve, 5));
    for (const pid of finisher.busyPids) process.kill(pid, 'SIGKILL');
    expect(await making).toMatchObject({ made: kept.length, failed: [], wasStopped: false });
    await finisher.close();
  });

  it('a finisher that cannot start is the program’s fault, and no frame’s', async () => {
    const folder = join(root, 'broken');
    await drawDay(day, folder);
    const refused = finish(folder, 'brokenFinisher');
    await expect(refused).rejects.toThrow(FinishError);
    await expect(refused).rejects.toThrow(/finisher to start but it ended .*picture library is missing.*Install/);
  });

  it('a place that cannot be written to is told as that, not as a broken picture', async () => {
    const folder = join(root, 'unwritable');
    await drawDay(day, folder);
    await mkdir(join(folder, 'made/proofs'), { recursive: true });
    const finisher = startFinisher(1);
    const original = originalOf(folder, kept[0]!);
    const words = {
      title: null,
      keywords: [],
      creator: null,
      credit: 'x',
      copyright: null,
      event: 'x',
      contact: null,
      usageTerms: '',
      captured: null,
    };
    const to = join(folder, 'made/gone/proof.jpg');
    const refused = finisher.run({ frameId: kept[0]!, original, plan: planProof(words, { subjectBoxes: [] }), to });
    await expect(refused).rejects.toThrow(FinishError);
    await expect(refused).rejects.toThrow(/Expected to write a proof of \d+ bytes into .*gone, but ENOENT.*Make room/);
    expect((await readFile(original)).length).toBeGreaterThan(1000);
    await finisher.close();
  });
});
