/**
 * The order service as it is started in a terminal, behind a proxy, with a few orders of others in it: one paid and handed over, one
 * waiting, one paid by a provider whose link was taken back; a message, a prepaid code, a page shared under a password.
 */
import { spawn } from 'node:child_process';
import { createHash, randomBytes } from 'node:crypto';
import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { minorOf, type OrderId } from '../../../src/core/handover/orders/index.js';
import { epochMsOf } from '../../../src/core/units.js';
import { linkSigner } from '../../../src/shop/handing/links.js';
import { signWebhook } from '../../../src/shop/payment/standardWebhooks.js';
import { type AdminClient, adminClient } from '../../../src/shop/service/adminClient.js';
import { hashPassword } from '../../../src/shop/service/adminKeys.js';
import { referenceOf } from '../../../src/shop/service/reference.js';
import { MEETING, offerOfDay, pictureId, RIDER } from '../../../src/shop/testing/shopDay.js';
import { HOST, type Visitor } from '../../../src/shop/testing/visitor.js';
import { bytesOf, send, visitorAt } from './wire.js';

export const ONE_LINE = `one:picture:${pictureId(3)}:1`;
export const SHARED_FILE = '01-0047.jpg';
export const PASSWORD = 'three wet umbrellas';
const CODE = 'WETUMBRELLA';
const hex = (bytes: number): string => randomBytes(bytes).toString('hex');

const keys = () => ({ secret: hex(32), bearer: hex(24), webhookKey: randomBytes(32), share: hex(16) });

export interface Known extends ReturnType<typeof keys> {
  readonly orders: readonly OrderId[];
  readonly code: string;
  readonly adminKey: string;
  /** What the provider once sent, as somebody on the way might have kept it. */
  readonly webhook: { readonly body: string; readonly heads: Readonly<Record<string, string>> };
  readonly links: { readonly good: string; readonly expired: string; readonly revoked: string };
  /** What no terminal may show. */
  readonly keysOfService: readonly string[];
  /** What no stranger may read. */
  readonly secrets: readonly string[];
}

export interface HostileService {
  readonly ports: { readonly public: number; readonly admin: number };
  readonly admin: AdminClient;
  readonly known: Known;
  /** All it wrote to its terminal. */
  readonly output: () => string;
  readonly end: () => Promise<void>;
}

export async function startHostileService(): Promise<HostileService> {
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-hostile-'));
  const data = join(folder, 'data');
  const own = keys();
  await layFolder(folder, own);
  const port = await freePort();
  const words = ['--offer', join(folder, 'offer.json'), '--site', `https://${HOST}`, '--behind-proxy', '--data', data];
  const program = ['--import', 'tsx', 'src/cli/main.ts', 'orders', ...words, '--port', `${port}`, '--admin-port', '0'];
  const child = spawn(process.execPath, program, { stdio: 'pipe' });
  const closed = new Promise((done) => child.on('close', done));
  let output = '';
  for (const stream of [child.stdout, child.stderr])
    stream.on('data', (chunk: Buffer) => {
      output += chunk.toString();
    });
  const end = async () => {
    child.kill('SIGTERM');
    await closed;
    await rm(folder, { recursive: true, force: true });
  };
  try {
    const adminPort = await new Promise<number>((found, lost) => {
      child.stdout.on('data', () => {
        const [, said] = /You reach it at http:\/\/127\.0\.0\.1:(\d+) /.exec(output) ?? [];
        if (said !== undefined) found(Number(said));
      });
      child.on('close', () => lost(new Error(`Expected the service to start, but it ended: ${output}`)));
    });
    const adminKey = (await readFile(join(data, 'admin.key'), 'utf8')).trim();
    const admin = adminClient(`http://127.0.0.1:${adminPort}`, adminKey);
    const known = await othersOrder(port, admin, { ...own, adminKey, folder });
    return { ports: { public: port, admin: adminPort }, admin, known, output: () => output, end };
  } catch (error) {
    await end();
    throw error;
  }
}

async function layFolder(folder: string, { secret, bearer, webhookKey, share }: ReturnType<typeof keys>) {
  const data = join(folder, 'data');
  const own = join(data, 'shares', share);
  await mkdir(join(own, 'pictures'), { recursive: true });
  await writeFile(join(own, 'pictures', SHARED_FILE), 'bytes of a shared picture');
  const shared = {
    ...{ v: 1, id: share, title: 'Pictures for the office at Ebbstone', passwordHash: await hashPassword(PASSWORD) },
    ...{ expiresAt: null, terms: { may: [], mayNot: [], duties: [], note: '' } },
    pictures: [{ number: 1, file: SHARED_FILE, caption: 'Number 46 before the private lunch' }],
  };
  const webhookKeys = [`whsec_${webhookKey.toString('base64')}`];
  const provider = { key: 'till', name: 'Made-up Pay', start: 'https://pay.example/begin', bearer, webhookKeys };
  await writeFile(join(own, 'share.json'), JSON.stringify(shared));
  await writeFile(join(data, 'settings.json'), JSON.stringify({ v: 1, secret, provider }), { mode: 0o600 });
  await writeFile(join(folder, 'offer.json'), JSON.stringify(offerOfDay));
}

async function othersOrder(
  port: number,
  admin: AdminClient,
  own: ReturnType<typeof keys> & { readonly adminKey: string; readonly folder: string },
): Promise<Known> {
  const worth = { kind: 'prepaid', worth: minorOf(4500, 'worth'), reference: 'Booking of the umbrella' } as const;
  await admin.putVoucher(MEETING, { code: CODE, ...worth, uses: 1, expiresAt: null });
  const who = (n: number) => visitorAt(port, `192.0.2.${n}`);
  const buy = (n: number, line: string, name: string, more: Readonly<Record<string, string>> = {}) =>
    orderOf(who(n), line, { name, mail: `${name.toLowerCase()}@post.example`, ...more });
  const given = await buy(1, `day:day:${RIDER}:2026-09-19:1`, 'Quarrelsome');
  const waiting = await buy(2, `paper:print:${pictureId(4)}:1`, 'Thistlewick', { address: '17 Puddle Lane' });
  const revoked = await buy(3, ONE_LINE, 'Wagstaff', { way: 'provider' });
  await admin.tell(given, { key: 'till-0001', fact: { kind: 'paid', amount: 4500, way: 'cash', reference: '' } });
  const data = { order: revoked, amount: 1200, currency: 'GBP', reference: 'paid-once' };
  const body = JSON.stringify({ type: 'payment.succeeded', data });
  const heads = { ...webhookHeads(own.webhookKey, 'msg_once', body), 'X-Forwarded-For': '192.0.2.9' };
  await send(port, bytesOf({ method: 'POST', path: '/webhook/till', headers: heads, body }));
  for (const n of [1, 2]) await bring(admin, pictureId(n));
  const linkOf = async (order: OrderId) => (await admin.link(order, null)).address.split('/handed/')[1]!;
  const links = {
    good: await linkOf(given),
    revoked: await linkOf(revoked),
    expired: linkSigner(own.secret).sign({ order: given, scope: null, generation: 1, expiresAt: epochMsOf(1e12) }),
  };
  await admin.takeLinkBack(revoked);
  await who(4).post(`/${MEETING}/take-down`, { contact: 'guardian@minor.example', words: 'She is eleven.' });
  const orders = [given, waiting, revoked];
  const { secret, bearer, webhookKey, adminKey, folder } = own;
  const keysOfService = [secret, bearer, webhookKey.toString('base64'), adminKey, PASSWORD, '$argon2id$'];
  return {
    ...{ ...own, orders, code: CODE, links, webhook: { body, heads }, keysOfService },
    secrets: [
      ...[...keysOfService, ...orders, ...orders.map(referenceOf), links.good, links.revoked, folder, process.cwd()],
      ...['uarrelsome', 'histlewick', 'agstaff', 'post.example', '17 Puddle Lane', 'guardian@minor', 'She is eleven'],
      ...[CODE, worth.reference, PICTURE, 'bytes of a shared picture', 'private lunch', 'office at Ebbstone'],
    ],
  };
}

/** As a rider does it: page, basket, form, order. */
export async function orderOf(who: Visitor, line: string, fields: Readonly<Record<string, string>>): Promise<OrderId> {
  await who.get(`/${MEETING}/rider/${RIDER}`);
  await who.post(`/${MEETING}/basket`, { do: 'put', line });
  await who.get(`/${MEETING}/order`);
  const seen = /name="seen" value="(\d+)"/.exec(who.html)?.[1] ?? '';
  const all = { way: 'cash', supply: 'yes', loss: 'yes', seen, mail: 'me@post.invalid', ...fields };
  await who.post(`/${MEETING}/order`, all);
  const [, order] = /^\/order\/([0-9a-f]{32})$/.exec(who.location) ?? [];
  if (order === undefined) throw new Error(`Expected an order to be taken, but the answer was ${who.status}.`);
  return order as OrderId;
}

export function webhookHeads(key: Buffer, id: string, body: string, awayS = 0): Record<string, string> {
  const at = String(Math.floor(Date.now() / 1000) + awayS);
  return { 'webhook-id': id, 'webhook-timestamp': at, 'webhook-signature': signWebhook(key, id, at, body) };
}

const PICTURE = 'BYTES OF A PICTURE';

async function bring(admin: AdminClient, picture: string): Promise<void> {
  const bytes = new Uint8Array(Buffer.from(`\xff\xd8${PICTURE}\xff\xd9`, 'latin1'));
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  const path = `/api/finals/${picture}/personal/full?from=0&of=${bytes.length}&sha256=${sha256}`;
  const answer = await admin.plain(path, { method: 'PUT', body: bytes });
  if (!answer.ok) throw new Error(`Expected a final to be taken, but the answer was ${answer.status}.`);
}

/** Where a site is said, the service does not say its port. */
const freePort = (): Promise<number> =>
  new Promise((found) => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const { port } = server.address() as { port: number };
      server.close(() => found(port));
    });
  });
