// Oracles: the reference scenarios and schemas of the public repository ascmitc/mhl (MIT), in test/fixtures/asc-mhl;
// the specification's "media-hash-list" vectors; xxHash's own cli/xsum_sanity_check.c for empty input.
import { cp, mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { digestOfC4 } from '../../core/bringin/c4.js';
import { directoryHashes } from '../../core/bringin/directoryHashes.js';
import { chainXml, manifestXml } from '../../core/bringin/manifest.js';
import { type HashKind, hashKinds, type Manifest } from '../../core/bringin/manifestTypes.js';
import { epochMsOf } from '../../core/units.js';
import { c4Of, hashBytesWith } from './hashing.js';
import { readHistory } from './history.js';
import { bringIn, mend, verifyFolder } from './index.js';
import { parseManifest } from './readManifest.js';
import { itWith, validate } from './testing/oracles.js';
import { putPictures, scratchFolder } from './testing/scratch.js';

const fixtures = join(dirname(fileURLToPath(import.meta.url)), '../../../test/fixtures/asc-mhl');
const manifestSchema = join(fixtures, 'xsd/ASCMHL.xsd');
const chainSchema = join(fixtures, 'xsd/ASCMHLDirectory__combined.xsd');
const scratch = scratchFolder();

const vectors: Readonly<Record<HashKind, string>> = {
  md5: '9db0fc9f30f5ee70041a7538809e2858',
  sha1: '7b57673ac5633937a55b59009ad0c57ee08188b7',
  xxh64: '584b2ea1974f2b7c',
  xxh3: '6d4cbd75905c81aa',
  xxh128: '61a67c014f703a456ee7a776fd8c06bd',
  c4: 'c456LycWwpMMS7VDZEKvYv2L1uJS6s4qAFnaJdnQiy5JVbBFZMA8aLDS6SPaJjLqxXH4qZdnbuktopMt9frtC2qL1R',
};

describe('hashes of ASC MHL', () => {
  it.each(hashKinds)('BI30: %s of "media-hash-list" is as the specification prints it', async (kind) => {
    expect((await hashBytesWith(kind))(Buffer.from('media-hash-list'))).toBe(vectors[kind]);
  });

  it('BI30: empty input hashes as xxHash checks itself', async () => {
    expect((await hashBytesWith('xxh64'))(new Uint8Array())).toBe('ef46db3751d8e999');
    expect((await hashBytesWith('xxh3'))(new Uint8Array())).toBe('2d06800538d394c2');
  });

  it('BI30: a C4 id gives back the digest it was made of', () => {
    expect(Buffer.from(digestOfC4(vectors.c4)).toString('hex')).toHaveLength(128);
    expect(c4Of(Buffer.from('media-hash-list'))).toBe(vectors.c4);
  });
});

/** Folders of the five scenarios that have an `ascmhl` folder. */
async function historyFolders(): Promise<readonly string[]> {
  const entries = await readdir(join(fixtures, 'scenarios'), { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => entry.isDirectory() && entry.name === 'ascmhl')
    .map((entry) => entry.parentPath)
    .sort();
}

describe('the reference scenarios', () => {
  it('BI31: every chain vouches for its manifests', async () => {
    const folders = await historyFolders();
    let links = 0;
    for (const folder of folders) {
      const history = await readHistory(folder);
      expect(history!.troubles, folder).toEqual([]);
      expect(history!.generations.every((generation) => generation.isAsChained)).toBe(true);
      links += history!.chain.length;
    }
    expect([folders.length, links]).toEqual([12, 17]);
  });

  it('BI31: every printed directory hash is found again from the file hashes', async () => {
    let compared = 0;
    for (const folder of await historyFolders()) {
      for (const { manifest } of (await readHistory(folder))!.generations)
        compared += await compareDirectories(manifest);
    }
    expect(compared).toBe(64);
  });

  it.each(['01', '02', '03', '04', '05'])('BI32: scenario %s is as its log says', async (number) => {
    const root = join(fixtures, `scenarios/scenario_${number}`);
    for (const place of (await readdir(root)).filter((name) => name !== 'log.txt')) {
      const check = await verifyFolder(join(root, place));
      const expected = number === '05' ? (place === 'travel_01' ? 6 : 7) : 3;
      const isTheBadOne = number === '04' && place === 'file_server';
      expect(check.verified).toBe(isTheBadOne ? 2 : expected);
      expect(check.isWhole).toBe(!isTheBadOne);
    }
  });

  it('BI32: the one changed file is found by its hash, and its failed hash does not excuse it', async () => {
    const check = await verifyFolder(join(fixtures, 'scenarios/scenario_04/file_server/A002R2EC'));
    expect(check.files.filter((file) => file.kind !== 'verified')).toEqual([
      {
        kind: 'mismatch',
        path: 'Sidecar.txt',
        by: 'xxh64',
        expected: '3ab5a4166b9bde44',
        received: '70d2cf31aaa3eac4',
        sentence:
          'Expected xxh64 3ab5a4166b9bde44 for Sidecar.txt but it has 70d2cf31aaa3eac4: it was changed or damaged. Mend it from another copy.',
      },
    ]);
  });

  it('BI33: a file of which only failed hashes are known is never verified', async () => {
    await copyScenario();
    const manifest = scratch.path('copy/ascmhl/0001_A002R2EC_2020-01-16_091500Z.mhl');
    const text = await readFile(manifest, 'utf8');
    const failed = text.replace(
      'action="original" hashdate="2020-01-16T09:15:00+00:00">3ab5',
      'action="failed" hashdate="2020-01-16T09:15:00+00:00">3ab5',
    );
    expect(failed).not.toBe(text);
    await writeFile(manifest, failed);
    const check = await verifyFolder(scratch.path('copy'));
    expect(check.files.find((file) => file.path === 'Sidecar.txt')?.kind).toBe('unproven');
    expect(check.troubles[0]).toMatch(/to have the C4 id c43qQABr.* the manifest was changed/);
  });

  it('BI33: changed, missing and added files and a changed manifest below are each named', async () => {
    await cp(join(fixtures, 'scenarios/scenario_05/file_server/Reels'), scratch.path('copy'), { recursive: true });
    await writeFile(scratch.path('copy/extra.txt'), 'extra');
    await writeFile(scratch.path('copy/Summary.txt'), 'changed');
    const below = scratch.path('copy/A002R2EC/ascmhl/0002_A002R2EC_2020-01-17_143000Z.mhl');
    await writeFile(below, `${await readFile(below, 'utf8')}\n`);
    const check = await verifyFolder(scratch.path('copy'));
    expect(check.files.filter((file) => file.kind !== 'verified').map((file) => [file.kind, file.path])).toEqual([
      ['mismatch', 'Summary.txt'],
      ['new', 'extra.txt'],
    ]);
    expect(check.troubles.filter((sentence) => sentence.includes('0002_A002R2EC'))).toHaveLength(2);
  });

  it('BI34: a history made elsewhere is brought in with its folder and goes on from there', async () => {
    await copyScenario();
    const report = await bringIn({ cards: [scratch.path('copy')], destinations: [scratch.path('a')] });
    const fill = scratch.path('a/cards', report.cards[0]!.folder);
    expect(report.cards[0]!.generations).toEqual([2]);
    const original = await readFile(scratch.path('copy/ascmhl/0001_A002R2EC_2020-01-16_091500Z.mhl'));
    expect((await readFile(join(fill, 'ascmhl/0001_A002R2EC_2020-01-16_091500Z.mhl'))).equals(original)).toBe(true);
    expect(await verifyFolder(fill)).toMatchObject({ verified: 3, isWhole: true });
  });
});

const copyScenario = (): Promise<void> =>
  cp(join(fixtures, 'scenarios/scenario_01/travel_01/A002R2EC'), scratch.path('copy'), { recursive: true });

/** Recomputes directory hashes of one manifest by each kind all its files have. Resolves with the values compared. */
async function compareDirectories(manifest: Manifest): Promise<number> {
  let compared = 0;
  for (const kind of hashKinds) {
    const files = manifest.files.flatMap((file) =>
      file.hashes.filter((hash) => hash.kind === kind).map(({ value }) => ({ path: file.path, value })),
    );
    // A folder whose files are recorded in nested histories cannot be recomputed from this manifest alone.
    if (files.length === 0 || files.length !== manifest.files.length || manifest.references.length > 0) continue;
    const ours = directoryHashes(files, kind, await hashBytesWith(kind));
    for (const printed of [...manifest.directories, { path: '', ...manifest.root! }]) {
      for (const which of ['content', 'structure'] as const) {
        const value = printed[which].find((hash) => hash.kind === kind)?.value;
        if (value === undefined) continue;
        expect(ours.find((one) => one.path === printed.path)?.[which]).toBe(value);
        compared++;
      }
    }
  }
  return compared;
}

describe('our manifests', () => {
  itWith(
    'xmllint',
    'BI35: manifests and chains follow the published schemas, however odd the names and often the card',
    async () => {
      await scratch.put('card/odd "name" & <tag> 🏍\n\r\t\u0001.txt', 'odd');
      await putPictures(scratch, 'card', [1, 2]);
      const destinations = [scratch.path('a'), scratch.path('b')];
      await bringIn({ cards: [scratch.path('card')], destinations });
      await putPictures(scratch, 'card', [3]);
      const report = await bringIn({ cards: [scratch.path('card')], destinations });
      const { folder } = report.cards[0]!;
      await writeFile(scratch.path('a/cards', folder, 'DCIM/100TESTA/TEST0003.JPG'), 'damaged');
      await mend({ damaged: destinations[0]!, from: destinations[1]! });
      const history = scratch.path('a/cards', folder, 'ascmhl');
      const manifests = (await readdir(history)).filter((name) => name.endsWith('.mhl'));
      expect(manifests).toHaveLength(3);
      for (const name of manifests) validate(manifestSchema, join(history, name));
      validate(chainSchema, join(history, 'ascmhl_chain.xml'));
      expect((await verifyFolder(scratch.path('a'))).sentence).toBe(
        'All 4 files are as they were when they were brought in.',
      );
    },
  );

  itWith('xmllint', 'BI35: every optional part follows the schema too', async () => {
    const hash = (kind: HashKind) => ({
      kind,
      value: vectors[kind],
      action: 'verified' as const,
      at: epochMsOf(1_780_000_000_123),
    });
    const manifest: Manifest = {
      created: epochMsOf(1_780_000_000_000),
      hostname: 'a & b',
      tool: { name: 'tyrewall', version: '0' },
      process: 'flatten',
      root: { content: hashKinds.map(hash), structure: hashKinds.map(hash) },
      ignore: ['*.tmp'],
      files: [
        {
          path: 'a',
          bytes: 1,
          modified: epochMsOf(0),
          hashes: hashKinds.map(hash),
          previousPath: 'b',
          notReadBack: 'why & how',
        },
      ],
      directories: [{ path: 'd', content: [hash('md5')], structure: [hash('md5')] }],
      references: [{ path: 'd/ascmhl/0001_d.mhl', c4: vectors.c4 }],
      fill: 'a fill' as never,
    };
    await mkdir(scratch.path('x'));
    await writeFile(scratch.path('x/m.mhl'), manifestXml(manifest));
    await writeFile(scratch.path('x/c.xml'), chainXml([{ path: 'm.mhl', c4: vectors.c4 }]));
    validate(manifestSchema, scratch.path('x/m.mhl'));
    validate(chainSchema, scratch.path('x/c.xml'));
    const order = (one: Manifest) => JSON.stringify(one, Object.keys({ ...one }).sort());
    expect(order(parseManifest(manifestXml(manifest), 'm.mhl'))).toBe(order(manifest));
  });

  it('BI36: a manifest that names a file outside its folder is not used', () => {
    const text = (path: string) =>
      `<hashlist version="2.0" xmlns="urn:ASC:MHL:v2.0"><creatorinfo/><processinfo/><hashes><hash><path>${path}</path></hash></hashes></hashlist>`;
    for (const path of ['../x', 'a/../../x', '/etc/x', '']) {
      expect(() => parseManifest(text(path), 'm.mhl')).toThrow(/Expected a path inside its folder in m.mhl/);
    }
    expect(() => parseManifest('no xml <', 'm.mhl')).toThrow(/m\.mhl/);
    expect(() => parseManifest('<other/>', 'm.mhl')).toThrow('Expected <hashlist> at the top of m.mhl but found none.');
  });
});
