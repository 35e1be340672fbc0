/** What every place must do, asked of a folder, of OpenSSH's SFTP server and of an S3 store. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { folderPlace } from './folderPlace.js';
import { openPlace } from './openPlace.js';
import { PutUpError } from './putUpError.js';
import { sftpPlace } from './sftpPlace.js';
import { KINDS, lineTo, newHostKey, SSHD, sftpServer, type TestPlace } from './testing/servers.js';
import type { Place } from './types.js';

const page = { type: 'text/html; charset=utf-8', cache: 'no-cache' };
const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

describe.each(KINDS)('PU1: a place: %s', (kind, start) => {
  let server: TestPlace;
  let place: Place;
  beforeAll(async () => {
    server = await start();
    place = await openPlace(server.address);
  });
  afterAll(async () => {
    await place.close();
    await server.close();
  });

  it('lists nothing where nothing is', async () => {
    expect(await place.list('nowhere')).toEqual([]);
    expect(await place.read('nowhere/a.txt')).toBeNull();
  });

  it('takes a file, lists it with its length, and gives the same bytes back', async () => {
    const bytes = Uint8Array.from({ length: 300_000 }, (_, i) => (i * 31) % 251);
    const placed = await place.put('one/deep/picture.jpg', bytes, page);
    expect(placed).toMatchObject({ path: 'one/deep/picture.jpg', bytes: 300_000 });
    expect(await place.list('one')).toEqual([placed]);
    expect(Buffer.from((await place.read('one/deep/picture.jpg'))!).equals(Buffer.from(bytes))).toBe(true);
  });

  it('replaces a file, and its stamp says so', async () => {
    const before = await place.put('two/page.html', bytesOf('before'), page);
    const after = await place.put('two/page.html', bytesOf('afterwards'), page);
    expect(`${after.bytes} ${after.stamp}`).not.toBe(`${before.bytes} ${before.stamp}`);
    expect(Buffer.from((await place.read('two/page.html'))!).toString()).toBe('afterwards');
    expect(await place.list('two')).toEqual([after]);
  });

  it('removes a file so that it is absent, and removing it again is no fault', async () => {
    await place.put('three/a.txt', bytesOf('a'), page);
    await place.remove('three/a.txt');
    expect(await place.read('three/a.txt')).toBeNull();
    expect(await place.list('three')).toEqual([]);
    await place.remove('three/a.txt');
  });

  it('takes an empty file and many at once', async () => {
    const names = Array.from({ length: 40 }, (_, i) => `four/${i % 3}/${i}.txt`);
    await Promise.all(names.map((name, i) => place.put(name, bytesOf('x'.repeat(i)), page)));
    const listed = await place.list('four');
    expect(listed.map(({ path, bytes }) => [path, bytes]).sort()).toEqual(names.map((name, i) => [name, i]).sort());
  });

  if (kind === 's3') {
    it('says the type and how long a file may be kept', async () => {
      await place.put('public/a.html', bytesOf('<p>a'), page);
      const { GetObjectCommand, S3Client } = await import('@aws-sdk/client-s3');
      const address = server.address as Extract<TestPlace['address'], { kind: 's3' }>;
      const client = new S3Client({
        region: 'us-east-1',
        endpoint: address.endpoint!,
        forcePathStyle: true,
        credentials: { accessKeyId: 'S3RVER', secretAccessKey: 'S3RVER' },
      });
      const found = await client.send(new GetObjectCommand({ Bucket: 'pictures', Key: 'galleries/public/a.html' }));
      expect([found.ContentType, found.CacheControl]).toEqual([page.type, page.cache]);
      await found.Body!.transformToByteArray();
      client.destroy();
    });

    it('says which bucket or key is not right', async () => {
      const wrong = { ...server.address, bucket: 'elsewhere' } as TestPlace['address'];
      const elsewhere = await openPlace(wrong);
      await expect(elsewhere.list('')).rejects.toThrow(/there is no such bucket. Make it/);
      await elsewhere.close();
    });
  }
});

describe.skipIf(SSHD === null)('PU9: the key of an SFTP server', () => {
  it('that is not the one said is refused in a sentence, and nothing is sent', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'tyrewall-place-'));
    const server = await sftpServer(folder, newHostKey());
    const address = server.address as Extract<TestPlace['address'], { kind: 'sftp' }>;
    const other = sftpPlace({ ...address, hostKey: `SHA256:${'A'.repeat(43)}` });
    const refused = other.put('a.txt', bytesOf('a'), page);
    await expect(refused).rejects.toThrow(PutUpError);
    await expect(refused).rejects.toThrow(
      `to show the key SHA256:${'A'.repeat(43)}, but it showed ${address.hostKey}. Somebody may be standing in for it: nothing was sent.`,
    );
    await expect(refused).rejects.toMatchObject({ isPassing: false });
    expect(await folderPlace({ kind: 'folder', folder }).list('')).toEqual([]);
    await other.close();
    await server.close();
    await rm(folder, { recursive: true });
  });

  it('a line that is cut is opened again by the next call', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'tyrewall-place-'));
    const server = await sftpServer(folder);
    const line = await lineTo(server.address);
    const place = await openPlace(line.address);
    await place.put('a.txt', bytesOf('a'), page);
    const cut = place.put('b.txt', new Uint8Array(5_000_000), page);
    setTimeout(line.cut, 5);
    const outcome = await cut.catch((error) => error);
    if (outcome instanceof Error) expect(outcome).toMatchObject({ isPassing: true });
    await wait(50);
    await place.put('c.txt', bytesOf('c'), page);
    const whole = (await place.list('')).filter(({ path }) => !path.startsWith('.unfinished-'));
    expect(whole.flatMap(({ path }) => (path === 'b.txt' ? [] : [path])).sort()).toEqual(['a.txt', 'c.txt']);
    expect(whole.find(({ path }) => path === 'b.txt')?.bytes ?? 5_000_000).toBe(5_000_000);
    await place.close();
    await line.close();
    await server.close();
    await rm(folder, { recursive: true });
  });
});

it('PU1: a disk that is not plugged in is not taken for an empty one', async () => {
  const place = folderPlace({ kind: 'folder', folder: '/nowhere/at/all' });
  await expect(place.list('')).rejects.toThrow(
    'Expected the folder /nowhere/at/all, but it is not there. Plug the disk in or make the folder, and put up again.',
  );
});
