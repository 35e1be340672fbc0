/**
 * A folder on a server reached over SFTP (the version 3 that OpenSSH speaks, draft-ietf-secsh-filexfer-02). The server
 * must show the key a person said once. A file is written under another name and renamed by `posix-rename@openssh.com`,
 * which replaces in one step; a server without it replaces a page in two.
 */
import { createHash, randomUUID } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { dirname } from 'node:path/posix';
import { Client, type FileEntryWithStats, type SFTPWrapper } from 'ssh2';
import { UNFINISHED } from '../finish/atomically.js';
import { PutUpError, wordsOf } from './putUpError.js';
import type { Place, PlaceAddress } from './types.js';

type SftpAddress = Extract<PlaceAddress, { kind: 'sftp' }>;

const HELLO_MS = 20_000;
/** A line that said nothing for so long is taken for dead. */
const SILENT_MS = 60_000;
/** Status codes of the draft, section 7. */
const NO_SUCH_FILE = 2;
const PERMISSION_DENIED = 3;

/** As `ssh-keygen -l` prints it (RFC 4648 base64 without padding). */
const printOf = (key: Buffer): string =>
  `SHA256:${createHash('sha256').update(key).digest('base64').replace(/=+$/, '')}`;

interface Session {
  readonly sftp: SFTPWrapper;
  readonly client: Client;
  readonly folders: Set<string>;
}

export function sftpPlace(address: SftpAddress): Place {
  const { host, port, folder: root } = address;
  const said = `${host}${port === 22 ? '' : `, port ${port},`} over SFTP`;
  const full = (path: string): string => [root, path].filter((part) => part !== '').join('/') || '.';
  let opening: Promise<Session> | null = null;

  const session = (): Promise<Session> => {
    opening ??= connect(address, said, () => {
      opening = null;
    });
    opening.catch(() => {
      opening = null;
    });
    return opening;
  };
  /** One thing asked of the server; a line gone silent is closed, so that the next call opens another. */
  const ask = async <T>(path: string, work: (session: Session) => Promise<T>): Promise<T> => {
    const open = await session();
    let timer: NodeJS.Timeout | undefined;
    const silence = new Promise<never>((_, reject) => {
      timer = setTimeout(() => {
        open.client.destroy();
        reject(new Error(`nothing was heard for ${SILENT_MS / 1000} s`));
      }, SILENT_MS);
    });
    try {
      return await Promise.race([work(open), silence]);
    } catch (error) {
      throw refusal(said, path, error);
    } finally {
      clearTimeout(timer);
    }
  };

  return {
    said,
    list: (folder) =>
      ask(folder, async ({ sftp }) => {
        const prefix = full('').length + 1;
        const files: { path: string; bytes: number; stamp: string }[] = [];
        const folders = [full(folder)];
        for (const one of folders) {
          for (const { filename, attrs } of await entriesOf(sftp, one)) {
            const path = `${one}/${filename}`;
            if (attrs.isDirectory()) folders.push(path);
            else files.push({ path: path.slice(prefix), bytes: attrs.size, stamp: `${attrs.mtime}` });
          }
        }
        return files;
      }),
    put: (path, bytes) =>
      ask(path, async (open) => {
        await makeFolder(open, dirname(full(path)), root);
        const { mtime } = await write(open.sftp, full(path), bytes);
        return { path, bytes: bytes.length, stamp: `${mtime}` };
      }),
    read: (path) => ask(path, ({ sftp }) => orAbsent(called<Buffer>((done) => sftp.readFile(full(path), done)))),
    remove: (path) =>
      ask(path, async ({ sftp }) => {
        await orAbsent(called<void>((done) => sftp.unlink(full(path), done)));
      }),
    async close() {
      const open = await opening?.catch(() => null);
      open?.client.end();
    },
  };
}

/** The key a server shows, for a person to compare with what the provider says. */
export function hostKeyShownBy(host: string, port: number): Promise<string> {
  return new Promise((resolve, reject) => {
    const client = new Client();
    let print: string | null = null;
    client.on('error', (error) => {
      if (print !== null) return resolve(print);
      reject(refusal(`${host}, port ${port},`, '', error));
    });
    const hostVerifier = (key: Buffer): boolean => {
      print = printOf(key);
      return false;
    };
    client.connect({ host, port, username: 'nobody', readyTimeout: HELLO_MS, hostVerifier });
  });
}

async function connect(address: SftpAddress, said: string, onEnd: () => void): Promise<Session> {
  const { host, port, user: username, privateKeyFile, secret } = address;
  const key = privateKeyFile === null ? null : await readKey(privateKeyFile);
  const shown: string[] = [];
  const client = new Client();
  try {
    await new Promise<void>((resolve, reject) => {
      client.on('ready', resolve).on('error', reject);
      client.on('close', () => {
        onEnd();
        reject(new Error('the line was closed'));
      });
      client.connect({
        host,
        port,
        username,
        readyTimeout: HELLO_MS,
        keepaliveInterval: 15_000,
        ...(key === null ? {} : { privateKey: key }),
        ...(secret === null ? {} : key === null ? { password: secret } : { passphrase: secret }),
        hostVerifier: (hostKey: Buffer) => {
          shown.push(printOf(hostKey));
          return shown.at(-1) === address.hostKey;
        },
      });
    });
    // Small answers to and fro: waiting to fill a packet would cost a turn 40 ms.
    client.setNoDelay(true);
    const sftp = await called<SFTPWrapper>((done) => client.sftp(done));
    return { client, sftp, folders: new Set() };
  } catch (error) {
    client.destroy();
    const other = shown.find((print) => print !== address.hostKey);
    if (other !== undefined) throw otherKey(address, said, other);
    throw refusal(said, '', error);
  }
}

async function readKey(path: string): Promise<Buffer> {
  try {
    return await readFile(path);
  } catch (error) {
    const sentence = `Expected your private key in ${path}, but it could not be read: ${wordsOf(error)}. Put it back, or say the place again with --key.`;
    throw new PutUpError(sentence, path, { cause: error });
  }
}

const otherKey = ({ host, hostKey }: SftpAddress, said: string, shown: string): PutUpError =>
  new PutUpError(
    `Expected ${said} to show the key ${hostKey}, but it showed ${shown}. Somebody may be standing in for it: nothing was sent. Ask whoever runs ${host}; if its key has changed, say the place again with --host-key ${shown}.`,
    host,
  );

/** A callback of the library as a promise; it throws at once where a server lacks an extension. */
const called = <T>(call: (done: (error: Error | null | undefined, result: T) => void) => void): Promise<T> =>
  new Promise((resolve, reject) => {
    call((error, result) => (error ? reject(error) : resolve(result)));
  });

const codeOf = (error: unknown): unknown => (error as { code?: unknown }).code;
const orAbsent = async <T>(asked: Promise<T>): Promise<T | null> => {
  try {
    return await asked;
  } catch (error) {
    if (codeOf(error) === NO_SUCH_FILE) return null;
    throw error;
  }
};

const entriesOf = async (sftp: SFTPWrapper, folder: string): Promise<readonly FileEntryWithStats[]> =>
  (await orAbsent(called<FileEntryWithStats[]>((done) => sftp.readdir(folder, done)))) ?? [];

/** Folders below the place's root; the root itself must be there, as a disk must be plugged in. */
async function makeFolder({ sftp, folders }: Session, folder: string, root: string): Promise<void> {
  if (folder === root || folder === '.' || folders.has(folder)) return;
  await makeFolder({ sftp, folders } as Session, dirname(folder), root);
  await called<void>((done) => sftp.mkdir(folder, done)).catch(async (error) => {
    // The protocol has no word for "is there already": look.
    const there = await orAbsent(called<{ isDirectory(): boolean }>((done) => sftp.stat(folder, done)));
    if (!there?.isDirectory()) throw error;
  });
  folders.add(folder);
}

async function write(sftp: SFTPWrapper, path: string, bytes: Uint8Array): Promise<{ readonly mtime: number }> {
  const beside = `${dirname(path)}/${UNFINISHED}${randomUUID()}`;
  const content = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const handle = await called<Buffer>((done) => sftp.open(beside, 'wx', done));
  if (content.length > 0) await called<void>((done) => sftp.write(handle, content, 0, content.length, 0, done));
  const { size, mtime } = await called<{ size: number; mtime: number }>((done) => sftp.fstat(handle, done));
  await called<void>((done) => sftp.close(handle, done));
  if (size !== content.length) throw new Error(`${content.length} bytes were sent, but ${size} lie there`);
  await replace(sftp, beside, path);
  return { mtime };
}

async function replace(sftp: SFTPWrapper, beside: string, path: string): Promise<void> {
  const inOneStep = called<void>((done) => sftp.ext_openssh_rename(beside, path, done));
  const lacks = await inOneStep.then(
    () => false,
    (error) => {
      if (/not support/i.test(wordsOf(error))) return true;
      throw error;
    },
  );
  if (!lacks) return;
  await orAbsent(called<void>((done) => sftp.unlink(path, done)));
  await called<void>((done) => sftp.rename(beside, path, done));
}

function refusal(said: string, path: string, error: unknown): PutUpError {
  if (error instanceof PutUpError) return error;
  const words = wordsOf(error);
  const what = path === '' ? `Expected ${said} to let us in` : `Expected ${said} to take ${path}`;
  if (codeOf(error) === PERMISSION_DENIED)
    return new PutUpError(
      `${what}, but it may not be written there. Ask for the right to write, or choose another folder.`,
      path,
      { cause: error },
    );
  if ((error as { level?: string }).level === 'client-authentication')
    return new PutUpError(
      `${what}, but it took neither key nor password. Say the place again with the right ones.`,
      path,
      { cause: error },
    );
  if (codeOf(error) === NO_SUCH_FILE)
    return new PutUpError(
      `${what}, but its folder is not there. Make it on the server, or say the place again with another.`,
      path,
      { cause: error },
    );
  return new PutUpError(`${what}, but: ${words}. Look at the connection and put up again.`, path, {
    isPassing: true,
    cause: error,
  });
}
