/**
 * A bucket of storage that speaks S3. A PUT is there whole or not at all by itself; Content-MD5 has the store check
 * what arrived. Checksums of newer kinds are sent only where asked for: not every store knows them.
 */
import { createHash } from 'node:crypto';
import {
  DeleteObjectCommand,
  GetObjectCommand,
  ListObjectsV2Command,
  type ListObjectsV2CommandOutput,
  PutObjectCommand,
  S3Client,
} from '@aws-sdk/client-s3';
import { PutUpError, wordsOf } from './putUpError.js';
import type { Place, PlaceAddress } from './types.js';

// The library tells Node 20 that its versions of 2027 will want a newer one; the version used here is fixed.
process.env.AWS_SDK_JS_NODE_VERSION_SUPPORT_WARNING_DISABLED ??= 'true';

type S3Address = Extract<PlaceAddress, { kind: 's3' }>;

export function s3Place(address: S3Address): Place {
  const { bucket: Bucket, folder: root, endpoint } = address;
  const said = `the bucket ${Bucket}${endpoint === null ? '' : ` at ${endpoint}`}`;
  const client = new S3Client({
    region: address.region,
    ...(endpoint === null ? {} : { endpoint, forcePathStyle: true }),
    credentials: { accessKeyId: address.keyId, secretAccessKey: address.secret },
    requestChecksumCalculation: 'WHEN_REQUIRED',
    responseChecksumValidation: 'WHEN_REQUIRED',
    // Tried again by us, where it is shown and can be stopped.
    maxAttempts: 1,
    requestHandler: { connectionTimeout: 20_000, requestTimeout: 60_000 },
  });
  const prefix = root === '' ? '' : `${root}/`;
  const ask = async <T>(path: string, work: () => Promise<T>): Promise<T> => {
    try {
      return await work();
    } catch (error) {
      throw refusal(said, path, error);
    }
  };
  return {
    said,
    list: (folder) =>
      ask(folder, async () => {
        const files: { path: string; bytes: number; stamp: string }[] = [];
        const Prefix = folder === '' ? prefix : `${prefix}${folder}/`;
        let ContinuationToken: string | undefined;
        do {
          const more = ContinuationToken === undefined ? {} : { ContinuationToken };
          const page: ListObjectsV2CommandOutput = await client.send(
            new ListObjectsV2Command({ Bucket, Prefix, ...more }),
          );
          for (const { Key = '', Size = 0, ETag = '' } of page.Contents ?? [])
            files.push({ path: Key.slice(prefix.length), bytes: Size, stamp: plain(ETag) });
          ContinuationToken = page.NextContinuationToken;
        } while (ContinuationToken !== undefined);
        return files;
      }),
    put: (path, bytes, { type, cache }) =>
      ask(path, async () => {
        const { ETag = '' } = await client.send(
          new PutObjectCommand({
            Bucket,
            Key: prefix + path,
            Body: bytes,
            ContentLength: bytes.length,
            ContentType: type,
            CacheControl: cache,
            ContentMD5: createHash('md5').update(bytes).digest('base64'),
          }),
        );
        return { path, bytes: bytes.length, stamp: plain(ETag) };
      }),
    read: (path) =>
      ask(path, async () => {
        const found = await client.send(new GetObjectCommand({ Bucket, Key: prefix + path })).catch((error) => {
          if ((error as Error).name === 'NoSuchKey') return null;
          throw error;
        });
        return (await found?.Body?.transformToByteArray()) ?? null;
      }),
    remove: (path) =>
      ask(path, async () => {
        await client.send(new DeleteObjectCommand({ Bucket, Key: prefix + path }));
      }),
    async close() {
      client.destroy();
    },
  };
}

/** Some stores write the quotes of RFC 9110 and some do not. */
const plain = (etag: string): string => etag.replaceAll('"', '');

const LASTING: Readonly<Record<string, string>> = {
  NoSuchBucket: 'there is no such bucket. Make it, or say the place again with its right name',
  AccessDenied: 'the key may not do that. Give it the right to list, read, write and delete there',
  InvalidAccessKeyId: 'it does not know the key. Say the place again with the right one',
  SignatureDoesNotMatch: 'the secret is not the key’s. Say the place again with the right one',
  PermanentRedirect: 'the bucket is in another region. Say the place again with --region',
};

function refusal(said: string, path: string, error: unknown): PutUpError {
  const what = `Expected ${said} to ${path === '' ? 'list its files' : `take ${path}`}`;
  const lasting = LASTING[(error as Error).name];
  if (lasting !== undefined) return new PutUpError(`${what}, but ${lasting}.`, path, { cause: error });
  const sentence = `${what}, but: ${wordsOf(error)}. Look at the connection and put up again.`;
  return new PutUpError(sentence, path, { isPassing: true, cause: error });
}
