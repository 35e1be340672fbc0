/** `tyrewall orders`: the service riders order from, until the person ends it; and what is said to it from a terminal. */
import { randomUUID } from 'node:crypto';
import { existsSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { text } from 'node:stream/consumers';
import {
  decimalText,
  type Minor,
  minorOf,
  moneyBack,
  moneyCame,
  moneyText,
  type Offer,
  parseMoney,
  type Voucher,
} from '../core/handover/orders/index.js';
import { epochMsOf } from '../core/units.js';
import { defaultStateRoot } from '../host/meeting/stateFolder.js';
import { fetchedOrdersPath, fetchOrders } from '../host/orders/fetchedOrders.js';
// Not by its index: a server that takes orders needs nothing of what finishes pictures.
import { openHanding } from '../shop/handing/openHanding.js';
import { type AdminClient, type AdminOrder, adminClient } from '../shop/service/adminClient.js';
import { hashPassword, isLongEnough } from '../shop/service/adminKeys.js';
import { keepAdminPassword, openDataFolder } from '../shop/service/dataFolder.js';
import { openShop } from '../shop/service/openShop.js';
import { offerSchema, voucherSchema } from '../shop/service/schemas.js';
import { sharePart } from '../shop/sharing/index.js';
import { CliError } from './cliError.js';
import { wholeNumber } from './numbers.js';
import { untilInterrupted } from './untilInterrupted.js';
import { counted, onOneLine } from './words.js';

const PUBLIC_PORT = 8420;
const ADMIN_PORT = 8421;
const MOST_PORT = 65_535;

export interface OrdersWish {
  readonly data?: string;
  readonly database?: string;
  readonly offer?: readonly string[];
  readonly listen?: string;
  readonly port?: string;
  readonly adminListen?: string;
  readonly adminPort?: string;
  readonly site?: string;
  readonly behindProxy?: boolean;
}

export async function ordersCommand(wish: OrdersWish): Promise<void> {
  const offers = await Promise.all((wish.offer ?? []).map(readOffer));
  const data = dataFolderOf(wish);
  const listen = wish.listen ?? '127.0.0.1';
  const site = wish.site === undefined ? null : siteOf(wish.site);
  if (site === null && listen !== '127.0.0.1')
    throw new CliError(
      `Expected --site with the address riders type, since it listens on ${onOneLine(listen)}, but it was not said. Say for instance --site http://192.168.4.1:${PUBLIC_PORT}.`,
    );
  const shop = await openShop({
    data,
    database: wish.database ?? null,
    offers,
    site,
    listen,
    port: portOf(wish.port, '--port', PUBLIC_PORT),
    adminListen: wish.adminListen ?? '127.0.0.1',
    adminPort: portOf(wish.adminPort, '--admin-port', ADMIN_PORT),
    isBehindProxy: wish.behindProxy ?? false,
    // Finals are brought by whoever has the originals: tyrewall orders bring.
    parts: async (ports, dataFolder) => [
      await openHanding(ports, { dataFolder, maker: null }),
      // What tyrewall organiser laid there.
      sharePart(ports, join(dataFolder, 'shares')),
    ],
  });
  console.log(`Riders order at ${site ?? `http://127.0.0.1:${shop.port}`}/`);
  for (const { title, meeting } of offers)
    console.log(`  ${onOneLine(title)}: /${meeting}; on the van's screen /${meeting}/van`);
  console.log(`You reach it at http://127.0.0.1:${shop.adminPort} with the key in ${join(data, 'admin.key')}.`);
  if (!existsSync(join(data, 'mail.json')))
    console.log(
      `No letter is sent, since there is no ${join(data, 'mail.json')}: buyers have their pictures on the order's own page, and tyrewall orders link says its address.`,
    );
  console.log('Its words of law (ticks, withdrawal, licences) are templates: check with local law.');
  console.log('End it with Ctrl+C; every order is already on the disk.');
  await untilInterrupted();
  await shop.close();
}

export const dataFolderOf = ({ data }: { readonly data?: string }): string =>
  resolve(data ?? join(defaultStateRoot(), 'orders'));

function siteOf(typed: string): string {
  const site = URL.canParse(typed) ? new URL(typed) : null;
  if (site !== null && /^https?:$/.test(site.protocol) && site.pathname === '/' && site.search === '')
    return site.origin;
  throw new CliError(
    `Expected an address without a path after --site but got ${onOneLine(typed)}. Say for instance https://orders.example.org.`,
  );
}

function portOf(typed: string | undefined, option: string, otherwise: number): number {
  if (typed === undefined) return otherwise;
  const port = wholeNumber(typed, 0, MOST_PORT);
  if (port !== null) return port;
  throw new CliError(
    `Expected a port from 0 to ${MOST_PORT} after ${option} but got ${onOneLine(typed)}. Say for instance ${otherwise}.`,
  );
}

async function readOffer(path: string): Promise<Offer> {
  const refuse = (why: string, cause?: unknown): CliError =>
    new CliError(`Expected an offer, as tyrewall gallery lays beside an edition, in ${path}, but ${why}.`, { cause });
  const words = await readFile(path, 'utf8').catch((cause: Error) => {
    throw refuse(`it could not be read: ${cause.message}`, cause);
  });
  let json: unknown;
  try {
    json = JSON.parse(words);
  } catch (cause) {
    throw refuse('it is not JSON', cause);
  }
  const read = offerSchema.safeParse(json);
  if (read.success) return read.data;
  const [first] = read.error.issues;
  throw refuse(`at ${first?.path.join('.') || 'the top'} it wants: ${first?.message}`);
}

/** Where the service's admin side is, and what lets one in. */
export interface AskWish {
  readonly data?: string;
  readonly from?: string;
  readonly passwordFile?: string;
}

export async function clientOf(wish: AskWish): Promise<AdminClient> {
  const address = wish.from ?? `http://127.0.0.1:${ADMIN_PORT}`;
  const file = wish.passwordFile ?? join(dataFolderOf(wish), 'admin.key');
  const word = await readFile(file, 'utf8').catch((cause: Error) => {
    throw new CliError(
      `Expected the service's key or password in ${file}, but it could not be read: ${cause.message}. Say --data with its folder, or --password-file.`,
      { cause },
    );
  });
  return adminClient(address, word.trim());
}

export async function fetchCommand(meeting: string, wish: AskWish & { readonly offer?: string }): Promise<void> {
  const of = wish.offer === undefined ? null : (await readOffer(wish.offer)).meeting;
  const client = await clientOf(wish);
  const come = await fetchOrders(meeting, (since) => client.factsSince(since, of));
  console.log(
    come === 0
      ? 'Nothing new was told since the last time.'
      : `${counted(come, 'fact')} of orders came, and lie in ${fetchedOrdersPath(meeting)}.`,
  );
}

export async function listCommand(wish: AskWish & { readonly waiting?: boolean }): Promise<void> {
  const client = await clientOf(wish);
  const orders = (await client.orders()).filter(
    ({ state }) => wish.waiting !== true || state.standing === 'waiting-for-money',
  );
  for (const order of orders) console.log(orderLine(order));
  if (orders.length === 0) console.log('There is no such order.');
}

const STANDING = {
  unknown: 'unknown',
  'waiting-for-money': 'waits for money',
  paid: 'paid',
  refunded: 'given back',
  cancelled: 'cancelled',
} as const;

function orderLine({ reference, state }: AdminOrder): string {
  const { placed, standing } = state;
  if (placed === null) return `${reference}  ${STANDING[standing]}`;
  const money = (amount: Minor) => moneyText(amount, placed.totals.currency, 'en');
  const sum = money(placed.totals.toPay);
  const left = minorOf(state.paid - state.refunded, 'paid');
  const part = standing === 'waiting-for-money' && state.paid > 0 ? `, ${money(state.owed)} of it still owed` : '';
  const over =
    standing === 'paid' && state.toGiveBack === 0 && left > placed.totals.toPay
      ? `, ${money(minorOf(left - placed.totals.toPay, 'over'))} more than it costs`
      : '';
  const bought = new Set(placed.lines.flatMap(({ pictures }) => pictures)).size;
  const out = bought - state.pictures.length;
  const gone = standing === 'paid' && out > 0 ? `, ${out} of ${counted(bought, 'picture')} taken out` : '';
  const isHanded = state.handedOver.some(({ what }) => what === 'print');
  const prints = !isHanded && placed.lines.some(({ asked }) => asked.kind === 'print') ? ', prints to send' : '';
  const back = state.toGiveBack === 0 ? '' : `, ${money(state.toGiveBack)} to give back`;
  return `${reference}  ${sum}  ${STANDING[standing]}  ${onOneLine(placed.contact.name)}${part}${over}${gone}${prints}${back}`;
}

/** Paper is handed over by hand: from then on the days to withdraw from it run. */
export async function printsHandedCommand(reference: string, wish: AskWish): Promise<void> {
  const client = await clientOf(wish);
  const order = await orderOf(client, reference);
  const lines = order.state.placed?.lines ?? [];
  const prints = new Set(lines.flatMap(({ asked }) => (asked.kind === 'print' ? [asked.picture] : [])));
  if (prints.size === 0) throw new CliError(`Expected an order with prints, but ${order.reference} has none.`);
  for (const picture of prints) {
    const fact = { kind: 'handed-over', what: 'print', picture, bytes: 0 } as const;
    await client.tell(order.state.id, { key: `print-${order.state.id.slice(0, 16)}-${picture}`, fact });
  }
  console.log(
    `${counted(prints.size, 'print')} of ${order.reference} handed over. Until 14 days from now its buyer may withdraw from them.`,
  );
}

export async function paidCommand(
  reference: string,
  wish: AskWish & { readonly way?: string; readonly amount?: string; readonly slip?: string },
): Promise<void> {
  const client = await clientOf(wish);
  const order = await orderOf(client, reference);
  const way = wish.way ?? 'cash';
  if (way !== 'cash' && way !== 'transfer' && way !== 'terminal')
    throw new CliError(`Expected cash, transfer or terminal after --way but got ${onOneLine(way)}.`);
  const amount = wish.amount === undefined ? order.state.owed : amountOf(wish.amount, order);
  if (amount === 0) throw new CliError(`Nothing is owed on ${order.reference}, so nothing was written.`);
  console.log(orderLine(await client.tell(order.state.id, moneyCame(order.state, amount, way, wish.slip ?? ''))));
}

export async function refundCommand(
  reference: string,
  wish: AskWish & { readonly amount?: string; readonly why?: string; readonly slip?: string },
): Promise<void> {
  const client = await clientOf(wish);
  const order = await orderOf(client, reference);
  const why = wish.why ?? 'kindness';
  if (why !== 'wrong-rider' && why !== 'taken-down' && why !== 'cancelled' && why !== 'kindness')
    throw new CliError(
      `Expected wrong-rider, taken-down, cancelled or kindness after --why but got ${onOneLine(why)}.`,
    );
  const { paid, refunded } = order.state;
  const amount = wish.amount === undefined ? minorOf(paid - refunded, '--amount') : amountOf(wish.amount, order);
  if (amount === 0) throw new CliError(`Nothing is left to give back of ${order.reference}, so nothing was written.`);
  console.log(orderLine(await client.tell(order.state.id, moneyBack(order.state, amount, why, wish.slip ?? ''))));
  console.log('Write down that the money itself went back: the service says only that it is owed no more.');
}

export async function cancelCommand(reference: string, wish: AskWish): Promise<void> {
  const client = await clientOf(wish);
  const order = await orderOf(client, reference);
  const fact = { kind: 'cancelled', by: 'photographer' } as const;
  console.log(orderLine(await client.tell(order.state.id, { key: randomUUID(), fact })));
}

export async function orderOf(client: AdminClient, reference: string): Promise<AdminOrder> {
  const found = await client.ordersOf(reference);
  if (found.length === 1) return found[0]!;
  throw new CliError(
    found.length === 0
      ? `Expected the reference of an order, as 7K3M-Q9PD, but ${onOneLine(reference)} is none. List them with tyrewall orders list.`
      : `${onOneLine(reference)} is the reference of ${found.length} orders. Say the order's own id, which stands in its page's address.`,
  );
}

function amountOf(typed: string, { state, reference }: AdminOrder): Minor {
  const currency = state.placed?.totals.currency ?? 'EUR';
  const amount = parseMoney(typed, currency);
  if (amount !== null) return amount;
  throw new CliError(
    `Expected an amount in ${currency} for ${reference}, as ${decimalText(minorOf(1250, '--amount'), currency)}, but got ${onOneLine(typed)}.`,
  );
}

export async function offerCommand(path: string, wish: AskWish): Promise<void> {
  const offer = await readOffer(path);
  await (await clientOf(wish)).putOffer(offer);
  console.log(
    `${onOneLine(offer.title)}: ${counted(offer.pictures.length, 'picture')} of ${counted(offer.riders.length, 'rider')} are offered.`,
  );
}

export interface VoucherWish extends AskWish {
  readonly percent?: string;
  readonly amount?: string;
  readonly prepaid?: string;
  readonly booking?: string;
  readonly uses?: string;
  readonly until?: string;
}

export async function voucherCommand(path: string, code: string, wish: VoucherWish): Promise<void> {
  const offer = await readOffer(path);
  const voucher = voucherSchema.safeParse({ code: code.toUpperCase(), ...limitsOf(wish), ...kindOf(wish, offer) });
  if (!voucher.success) {
    const at = voucher.error.issues[0]?.path[0] as keyof typeof VOUCHER_PARTS;
    throw new CliError(`Expected ${VOUCHER_PARTS[at] ?? VOUCHER_PARTS.kind}. No code was made good.`);
  }
  await (await clientOf(wish)).putVoucher(offer.meeting, voucher.data);
  console.log(`${voucher.data.code} is good at ${onOneLine(offer.title)}.`);
}

const VOUCHER_PARTS = {
  code: 'a code of at most 32 letters, digits and dashes',
  kind: 'one of --percent, --amount or --prepaid beside the code',
  off: 'a share from 0 to 100 after --percent, or an amount, as 12.50, after --amount',
  worth: 'an amount, as 45.00, after --prepaid',
  reference: 'at most 200 letters after --booking',
  uses: 'a whole number from 1 on after --uses',
  expiresAt: 'a day of the calendar after --until, as 2031-09-30',
};

function kindOf({ percent, amount, prepaid, booking = '' }: VoucherWish, { prices }: Offer): object {
  const money = (typed: string) => parseMoney(typed, prices.currency) ?? Number.NaN;
  if (percent !== undefined)
    return { kind: 'percent', off: Math.round(Number(percent) * 100) } satisfies Partial<Voucher>;
  if (amount !== undefined) return { kind: 'amount', off: money(amount) };
  if (prepaid !== undefined) return { kind: 'prepaid', worth: money(prepaid), reference: booking };
  return {};
}

/** As often as one likes unless more is said; a prepaid code until its money is spent. */
function limitsOf({ uses, until }: VoucherWish): object {
  const often = uses === undefined ? null : Number(uses);
  return { uses: often, expiresAt: until === undefined ? null : endOf(until) };
}

/** Of a day that stands in the calendar: what is none would be read as another. */
function endOf(day: string): number {
  const end = Date.parse(`${day}T23:59:59.999Z`);
  return !Number.isNaN(end) && new Date(end).toISOString().startsWith(day) ? epochMsOf(end) : Number.NaN;
}

/** From standard input, so that it stands in no history of commands. */
export async function passwordCommand(wish: { readonly data?: string; readonly none?: boolean }): Promise<void> {
  const data = await openDataFolder(dataFolderOf(wish));
  if (wish.none === true) {
    await keepAdminPassword(data, null);
    console.log('The admin side answers this machine only, from the next start on.');
    return;
  }
  if (process.stdin.isTTY) console.log('Type the password and end with Ctrl+D:');
  const password = (await text(process.stdin)).replace(/\r?\n$/, '');
  if (!isLongEnough(password))
    throw new CliError(
      'Expected a password of at least twelve letters on standard input; a short sentence is best. Nothing was changed.',
    );
  await keepAdminPassword(data, await hashPassword(password));
  console.log(`The password is set in ${data.folder}; it counts from the next start on.`);
}
