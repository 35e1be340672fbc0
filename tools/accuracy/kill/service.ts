/** `tyrewall orders` as it is installed, in a process of its own that is killed with SIGKILL and started again. */
import { type ChildProcess, spawn } from 'node:child_process';
import { cp, mkdir, symlink, writeFile } from 'node:fs/promises';
import { Agent, type IncomingMessage, request } from 'node:http';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import { besideTheCode } from '../../besideTheCode.js';

const ROOT = fileURLToPath(new URL('../../../', import.meta.url));
const START_MS = 60_000;

/** JavaScript, file by file as `npm run build` lays it: a process that is started two hundred times compiles nothing. */
export async function builtProgram(folder: string): Promise<string> {
  const output = { preserveModules: true, preserveModulesRoot: ROOT };
  await build({
    configFile: false,
    logLevel: 'error',
    root: ROOT,
    build: {
      ssr: 'src/cli/main.ts',
      outDir: folder,
      emptyOutDir: false,
      target: 'node20',
      rollupOptions: { output },
    },
  });
  await symlink(join(ROOT, 'node_modules'), join(folder, 'node_modules'));
  const beside = besideTheCode.filter((path) => path.startsWith('src/'));
  for (const path of ['package.json', ...beside]) await cp(join(ROOT, path), join(folder, path), { recursive: true });
  return join(folder, 'src/cli/main.js');
}

export interface Asked {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string;
}

/** From one start to the kill. */
export class Life {
  readonly site: string;
  readonly adminSite: string;
  readonly #child: ChildProcess;
  readonly #agent = new Agent({ keepAlive: true });
  #isKilled = false;

  constructor(child: ChildProcess, site: string, adminSite: string) {
    this.#child = child;
    this.site = site;
    this.adminSite = adminSite;
  }

  get isKilled(): boolean {
    return this.#isKilled;
  }

  async kill(signal: 'SIGKILL' | 'SIGTERM' = 'SIGKILL'): Promise<void> {
    this.#isKilled = true;
    const ended = new Promise((done) => this.#child.once('close', done));
    this.#child.kill(signal);
    await ended;
    this.#agent.destroy();
  }

  /** The answer as it comes; for what is read slowly. */
  open(path: string, { method = 'GET', headers = {}, body }: Asked = {}): Promise<IncomingMessage> {
    // Whatever visitors call it: each start has a port of its own.
    const own = { host: new URL(this.site).host, ...(method === 'POST' ? { origin: this.site } : {}) };
    return new Promise((resolve, reject) => {
      const sent = request(this.site + path, { method, headers: { ...headers, ...own }, agent: this.#agent }, resolve);
      sent.on('error', reject);
      sent.end(body);
    });
  }

  async ask(path: string, asked: Asked = {}): Promise<Response> {
    const answer = await this.open(path, asked);
    let text = '';
    for await (const piece of answer) text += String(piece);
    const headers = new Headers();
    for (const [name, values] of Object.entries(answer.headersDistinct))
      for (const value of values ?? []) headers.append(name, value);
    return new Response(text === '' ? null : text, { status: answer.statusCode ?? 0, headers });
  }
}

export interface ServiceWish {
  readonly program: string;
  readonly data: string;
  readonly settings: object;
  readonly offer: object;
  readonly database: string | null;
  readonly isBehindProxy?: boolean;
}

export async function serviceOf({ program, data, settings, offer, database, isBehindProxy }: ServiceWish) {
  await mkdir(data, { recursive: true, mode: 0o700 });
  await writeFile(join(data, 'settings.json'), JSON.stringify(settings), { mode: 0o600 });
  await writeFile(join(data, 'offer.json'), JSON.stringify(offer));
  const words = ['orders', '--data', data, '--port', '0', '--admin-port', '0', '--offer', join(data, 'offer.json')];
  if (database !== null) words.push('--database', database);
  if (isBehindProxy) words.push('--behind-proxy');
  return { start: () => started([program, ...words]) };
}

function started(words: readonly string[]): Promise<Life> {
  const child = spawn(process.execPath, words, { stdio: ['ignore', 'pipe', 'pipe'] });
  return new Promise((resolve, reject) => {
    let said = '';
    const lost = (why: string) => {
      clearTimeout(timer);
      child.kill('SIGKILL');
      reject(new Error(`Expected tyrewall orders to say where it listens, but ${why}: ${said}`));
    };
    const timer = setTimeout(() => lost(`in ${START_MS / 1000} s it did not`), START_MS);
    const listen = (piece: Buffer) => {
      said += String(piece);
      const [, site, admin] = /Riders order at (\S+)\/\n[\s\S]*You reach it at (\S+) /.exec(said) ?? [];
      if (site === undefined || admin === undefined) return;
      clearTimeout(timer);
      resolve(new Life(child, site, admin));
    };
    child.stdout.on('data', listen);
    child.stderr.on('data', listen);
    // What it complains of while it lives is for whoever reads the report.
    child.stderr.pipe(process.stderr);
    child.once('close', () => lost('it ended'));
  });
}
