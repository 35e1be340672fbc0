/**
 * A PostgreSQL of the test's own: Debian's programs, a temporary folder, a socket in it and no port. It refuses to run as root, so root
 * hands it to the user Debian's package makes. Absent, a test skips it and says so; REQUIRE_ORACLES=1 forbids that.
 */
import { execFile } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { chmod, mkdtemp, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';

const run = promisify(execFile);
const VERSIONS = '/usr/lib/postgresql';

export interface TestPostgres {
  /** Of a database that holds nothing yet; another at each call. */
  freshAddress(): Promise<string>;
  stop(): Promise<void>;
}

/** Where the server's programs lie, newest version; null where there are none. */
function programs(): string | null {
  const versions = existsSync(VERSIONS) ? readdirSync(VERSIONS) : [];
  const newest = versions.sort((a, b) => Number(b) - Number(a))[0];
  const folder = newest === undefined ? null : join(VERSIONS, newest, 'bin');
  return folder !== null && existsSync(join(folder, 'initdb')) ? folder : null;
}

export function hasPostgres(): boolean {
  if (programs() !== null) return true;
  if (process.env.REQUIRE_ORACLES === '1') throw new Error('Expected PostgreSQL for these tests; install postgresql.');
  console.warn('SKIPPED: no PostgreSQL under /usr/lib/postgresql, so orders are tested on SQLite alone.');
  return false;
}

export async function startPostgres(): Promise<TestPostgres> {
  const bin = programs()!;
  // A socket's path has at most 107 bytes, so the folder lies high up.
  const folder = await mkdtemp('/tmp/tyrewall-pg-');
  await chmod(folder, 0o777);
  const data = join(folder, 'data');
  const asUser = (program: string, ...words: readonly string[]) => {
    const command = [join(bin, program), ...words];
    const asRoot = process.getuid?.() === 0 ? ['runuser', '-u', 'postgres', '--', ...command] : command;
    return run(asRoot[0]!, asRoot.slice(1), { cwd: folder });
  };
  await asUser('initdb', '--auth', 'trust', '--username', 'tyrewall', '--no-sync', '--locale', 'C', '-E', 'UTF8', data);
  const options = `-c listen_addresses= -c unix_socket_directories=${folder} -c fsync=off`;
  await asUser('pg_ctl', '--wait', '-D', data, '-l', join(folder, 'server.log'), '-o', options, 'start');
  const addressOf = (database: string) => `postgresql://tyrewall@${encodeURIComponent(folder)}/${database}`;
  let databases = 0;
  return {
    async freshAddress() {
      const name = `orders${databases++}`;
      await asUser('createdb', '-h', folder, '-U', 'tyrewall', name);
      return addressOf(name);
    },
    async stop() {
      await asUser('pg_ctl', '--wait', '-D', data, '-m', 'immediate', 'stop');
      await rm(folder, { recursive: true, force: true });
    },
  };
}
