/** Real servers on free ports of the loopback: OpenSSH's, as the user who runs the test, and an S3 store. */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { chmod, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { connect, createServer, type Socket } from 'node:net';
import { tmpdir, userInfo } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import S3rver from 's3rver';
import ssh2 from 'ssh2';
import { hostKeyOf } from '../hostKey.js';
import type { PlaceAddress } from '../types.js';
import { wholeRequests } from './wholeRequests.js';

export interface TestPlace {
  readonly address: PlaceAddress;
  close(): Promise<void>;
}

export const SSHD = ['/usr/sbin/sshd', '/usr/local/sbin/sshd'].find((path) => existsSync(path)) ?? null;

/** The server's folder, keys and configuration are its own: nothing of the machine's is read. */
export async function sftpServer(
  root: string,
  usedKey?: { private: string; public: string },
  tries = 5,
): Promise<TestPlace & { readonly process: ChildProcess }> {
  if (SSHD === null) throw new Error('Expected sshd for these tests; install openssh-server.');
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-sshd-'));
  const [host, mine] = [usedKey ?? newHostKey(), ssh2.utils.generateKeyPairSync('ed25519')];
  for (const [name, text] of [
    ['host', host.private],
    ['mine', mine.private],
    ['mine.pub', mine.public],
  ] as const) {
    await writeFile(join(folder, name), text, { mode: 0o600 });
  }
  const port = await freePort();
  const config = [
    `Port ${port}`,
    'ListenAddress 127.0.0.1',
    `HostKey ${join(folder, 'host')}`,
    `AuthorizedKeysFile ${join(folder, 'mine.pub')}`,
    'PidFile none',
    'PasswordAuthentication no',
    'KbdInteractiveAuthentication no',
    'UsePAM no',
    'StrictModes no',
    'PermitRootLogin yes',
    'MaxStartups 100',
    'Subsystem sftp internal-sftp',
  ];
  await writeFile(join(folder, 'config'), `${config.join('\n')}\n`);
  // As root it parts its privileges into this folder of the system and insists on its being there.
  if (process.getuid?.() === 0) await mkdir('/run/sshd', { recursive: true }).then(() => chmod('/run/sshd', 0o755));
  const server = spawn(SSHD, ['-D', '-e', '-f', join(folder, 'config')], { stdio: ['ignore', 'ignore', 'pipe'] });
  // A test that fails before it closes must not leave a server behind.
  process.once('exit', () => server.kill());
  let said = '';
  server.stderr!.on('data', (chunk) => {
    said += chunk;
  });
  const isUp = await answering(port, () => server.exitCode !== null);
  if (!isUp) {
    server.kill();
    await rm(folder, { recursive: true, force: true });
    // Between being found free and being listened on, a port may be taken by another test's server.
    if (tries > 1) return sftpServer(root, usedKey, tries - 1);
    throw new Error(`Expected sshd to listen on port ${port}, but it said: ${said}`);
  }
  const address = {
    kind: 'sftp',
    host: '127.0.0.1',
    port,
    user: userInfo().username,
    folder: root,
    hostKey: await hostKeyOf('127.0.0.1', port),
    privateKeyFile: join(folder, 'mine'),
    secret: null,
  } as const;
  return {
    address,
    process: server,
    async close() {
      server.kill();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

export const newHostKey = () => ssh2.utils.generateKeyPairSync('ed25519');

async function s3Server(): Promise<TestPlace> {
  const directory = await mkdtemp(join(tmpdir(), 'tyrewall-s3-'));
  const server = new S3rver({
    port: 0,
    address: '127.0.0.1',
    silent: true,
    directory,
    configureBuckets: [{ name: 'pictures' }],
  });
  const line = await wholeRequests((await server.run()).port);
  return {
    // The package knows one key and its secret.
    address: {
      kind: 's3',
      bucket: 'pictures',
      folder: 'galleries',
      endpoint: `http://127.0.0.1:${line.port}`,
      region: 'us-east-1',
      keyId: 'S3RVER',
      secret: 'S3RVER',
    },
    async close() {
      line.closeAllConnections();
      line.close();
      await server.close();
      await rm(directory, { recursive: true, force: true });
    },
  };
}

/** A line to a server that can be cut: both ends see it closed. */
export async function lineTo(address: PlaceAddress): Promise<TestPlace & { cut(): void }> {
  if (address.kind !== 'sftp') throw new Error('Expected an SFTP place.');
  const open = new Set<Socket>();
  const line = createServer((near) => {
    const far = connect(address.port, address.host);
    for (const [one, other] of [
      [near, far],
      [far, near],
    ] as const) {
      open.add(one);
      one.on('error', () => {});
      one.on('close', () => {
        open.delete(one);
        other.destroy();
      });
    }
    near.pipe(far);
    far.pipe(near);
  });
  await new Promise<void>((resolve) => line.listen(0, '127.0.0.1', resolve));
  const { port } = line.address() as { port: number };
  const cut = (): void => {
    for (const socket of open) socket.destroy();
  };
  return {
    address: { ...address, port },
    cut,
    async close() {
      cut();
      line.close();
    },
  };
}

function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const { port } = server.address() as { port: number };
      server.close(() => resolve(port));
    });
  });
}

async function answering(port: number, hasEnded: () => boolean): Promise<boolean> {
  for (let tries = 0; tries < 600 && !hasEnded(); tries++) {
    const isOpen = await new Promise<boolean>((resolve) => {
      const socket = connect(port, '127.0.0.1', () => resolve(true)).on('error', () => resolve(false));
      socket.on('connect', () => socket.destroy());
    });
    if (isOpen) return !hasEnded();
    await wait(50);
  }
  return false;
}

async function folderOf(): Promise<TestPlace> {
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-place-'));
  return { address: { kind: 'folder', folder }, close: () => rm(folder, { recursive: true }) };
}

async function sftpFolder(): Promise<TestPlace> {
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-place-'));
  const server = await sftpServer(folder);
  return {
    address: server.address,
    async close() {
      await server.close();
      await rm(folder, { recursive: true });
    },
  };
}

if (SSHD === null && process.env.REQUIRE_ORACLES === '1')
  throw new Error('Expected sshd for these tests; install openssh-server.');
if (SSHD === null) console.warn('Tests of SFTP places are skipped: openssh-server is not installed.');

/** Every kind of place, each on a server of its own. */
export const KINDS: readonly (readonly [kind: PlaceAddress['kind'], start: () => Promise<TestPlace>])[] = [
  ['folder', folderOf],
  ...(SSHD === null ? [] : ([['sftp', sftpFolder]] as const)),
  ['s3', s3Server],
];
