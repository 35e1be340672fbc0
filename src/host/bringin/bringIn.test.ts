import { mkdir, mkdtemp, readFile, rm, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { bringIn, readFills } from './index.js';

let scratch = '';
beforeEach(async () => {
  scratch = await mkdtemp(join(tmpdir(), 'tyrewall-bringin-'));
});
afterEach(() => rm(scratch, { recursive: true, force: true }));

async function put(path: string, bytes: string | Uint8Array, at = '2026-05-30T10:00:00Z'): Promise<void> {
  await mkdir(dirname(join(scratch, path)), { recursive: true });
  await writeFile(join(scratch, path), bytes);
  await utimes(join(scratch, path), new Date(at), new Date(at));
}

describe('bringing in', () => {
  it('BI1: both disks hold every file byte for byte, and the manifests vouch for them', async () => {
    await put('card/DCIM/100TESTA/TEST0001.JPG', 'one');
    await put('card/DCIM/100TESTA/TEST0002.JPG', new Uint8Array(9_000_001).fill(7));
    await put('card/MISC/odd "name" 🏍\n.txt', 'odd');
    const report = await bringIn({
      cards: [join(scratch, 'card')],
      destinations: [join(scratch, 'a'), join(scratch, 'b')],
    });
    expect(report.cards[0]!.outcomes.map((outcome) => outcome.kind)).toEqual(['verified', 'verified', 'verified']);
    const fills = await readFills(join(scratch, 'a'));
    expect(fills[0]!.files).toHaveLength(3);
    for (const disk of ['a', 'b']) {
      const fill = join(scratch, disk, 'cards', fills[0]!.folder);
      expect(await readFile(join(fill, 'DCIM/100TESTA/TEST0001.JPG'), 'utf8')).toBe('one');
    }
    const again = await bringIn({
      cards: [join(scratch, 'card')],
      destinations: [join(scratch, 'a'), join(scratch, 'b')],
    });
    expect(again.cards[0]).toMatchObject({ alreadyHere: 3, outcomes: [], generations: [1, 1] });
  });
});
