/** The address of a place as typed, and what belongs to it. Secrets come from files: a command line can be read by others. */
import { readFile } from 'node:fs/promises';
import { userInfo } from 'node:os';
import { resolve } from 'node:path';
import type { PlaceAddress } from '../host/putUp/index.js';
import { CliError } from './cliError.js';
import { wholeNumber } from './numbers.js';
import { onOneLine } from './words.js';

export interface PlaceWish {
  readonly hostKey?: string;
  readonly key?: string;
  readonly keyId?: string;
  readonly secretFrom?: string;
  readonly endpoint?: string;
  readonly region?: string;
}

/** `hostKeyOf` asks a server for the key it shows, to be compared by a person. */
export async function placeAddress(
  typed: string,
  wish: PlaceWish,
  hostKeyOf: (host: string, port: number) => Promise<string>,
): Promise<PlaceAddress> {
  const secret = wish.secretFrom === undefined ? null : await secretIn(wish.secretFrom);
  if (/^sftp:/i.test(typed)) return sftpAddress(urlOf(typed), wish, secret, hostKeyOf);
  if (/^s3:/i.test(typed)) return s3Address(urlOf(typed), wish, secret);
  if (/^[a-z][a-z0-9+.-]+:\/\//i.test(typed)) throw unknownKind(typed);
  return { kind: 'folder', folder: resolve(typed) };
}

function urlOf(typed: string): URL {
  const url = URL.canParse(typed) ? new URL(typed) : null;
  if (url === null || url.hostname === '') throw unknownKind(typed);
  if (url.password !== '')
    throw new CliError(
      'Expected no password in the address, where others can read it, but there is one. Write it into a file and say --secret-from FILE.',
    );
  return url;
}

const unknownKind = (typed: string): CliError =>
  new CliError(
    `Expected a folder, sftp://user@host/folder or s3://bucket/folder for a place but got ${onOneLine(typed)}. Say one of these.`,
  );

async function sftpAddress(
  url: URL,
  { hostKey, key }: PlaceWish,
  secret: string | null,
  hostKeyOf: (host: string, port: number) => Promise<string>,
): Promise<PlaceAddress> {
  const port = url.port === '' ? 22 : (wholeNumber(url.port, 1, 65_535) ?? 22);
  if (key === undefined && secret === null)
    throw new CliError(
      'Expected a private key or a password for the server but got neither. Say --key FILE, or --secret-from FILE with the password in it.',
    );
  if (hostKey === undefined) {
    const shown = await hostKeyOf(url.hostname, port);
    throw new CliError(
      `${url.hostname} shows the key ${shown}. Compare it with what whoever runs the server says; if it is the same, say this again with --host-key ${shown}.`,
    );
  }
  const path = decodeURIComponent(url.pathname).replace(/\/+$/, '');
  return {
    kind: 'sftp',
    host: url.hostname,
    port,
    user: url.username === '' ? userInfo().username : decodeURIComponent(url.username),
    folder: path.startsWith('/~') ? path.slice(3) : path,
    hostKey,
    privateKeyFile: key === undefined ? null : resolve(key),
    secret,
  };
}

function s3Address(url: URL, { keyId, endpoint, region }: PlaceWish, secret: string | null): PlaceAddress {
  if (keyId === undefined || secret === null)
    throw new CliError(
      'Expected a key and its secret for the bucket but one is missing. Say --key-id ID and --secret-from FILE.',
    );
  if (endpoint !== undefined && !URL.canParse(endpoint))
    throw new CliError(
      `Expected an address such as https://storage.example after --endpoint but got ${onOneLine(endpoint)}. Say it whole.`,
    );
  return {
    kind: 's3',
    bucket: url.hostname,
    folder: decodeURIComponent(url.pathname).replace(/^\/+|\/+$/g, ''),
    endpoint: endpoint ?? null,
    region: region ?? 'us-east-1',
    keyId,
    secret,
  };
}

async function secretIn(path: string): Promise<string> {
  const text = await readFile(path, 'utf8').catch((cause: Error) => {
    throw new CliError(
      `Expected the secret in the first line of ${onOneLine(path)}, but it could not be read: ${cause.message}. Name a file that can.`,
    );
  });
  const line = text.split(/\r?\n/)[0] ?? '';
  if (line !== '') return line;
  throw new CliError(
    `Expected the secret in the first line of ${onOneLine(path)}, but that is empty. Write it there and say this again.`,
  );
}
