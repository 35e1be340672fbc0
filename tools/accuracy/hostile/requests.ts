/**
 * Requests of people who mean no good, in seeded variety. Kinds after OWASP's Web Security Testing Guide 4.2 (input, authentication, session,
 * authorisation); over-long forms after RFC 3629, section 10; broken framing after RFC 9112, sections 3, 6 and 11. A line of the table is
 * what is hoped for, method, path, heads and body; words in braces are drawn anew each time, with `%` as they stand in an address, with `~` as
 * they stand in a head.
 */
import type { Random } from '../../../src/core/numeric/random.js';
import { MEETING as M, pictureId } from '../../../src/shop/testing/shopDay.js';
import { HOST, type Visitor } from '../../../src/shop/testing/visitor.js';
import type { Hostile } from './leaks.js';
import { type Known, ONE_LINE, PASSWORD, SHARED_FILE, webhookHeads } from './service.js';
import { bytesOf } from './wire.js';

export interface Attacker {
  readonly known: Known;
  readonly ports: { readonly public: number; readonly admin: number };
  /** With a basket, and an order of their own. */
  readonly self: Visitor;
  readonly ownOrder: string;
  /** Another browser, whose word is good for its own cookie alone. */
  readonly other: Visitor;
}

type Heads = Readonly<Record<string, string>>;
type Line = readonly [expects: string, method: string, path: string, heads?: Heads, body?: string | Heads];

const NONE = '404 400';
/** Taken for the words they are, sent back to the form, or turned away. */
const TAKEN = '200 302 303 400 403 404 422 429';
const BASKET = `__Host-basket-${M}`;
const OURS = { Cookie: '{cookie}' };
const ORDER = { name: 'Somebody', mail: 'me@example.org', way: 'cash', supply: 'yes', loss: 'yes', seen: '1200' };
const KEY = { Authorization: 'Bearer {key}', 'Content-Type': 'application/json' };
const UPLOAD = { 'Content-Type': 'multipart/form-data; boundary=b' };
const SHARE = { Cookie: '__Host-share-{share}={seal}' };
const PROTO = '{"{proto}":{"isOurs":true},"type":"payment.succeeded","data":{"__proto__":{"amount":1}}}';
const FILE = '--b\r\nContent-Disposition: form-data; name="words"; filename="../x.php"\r\n\r\nGIF89a\r\n--b--\r\n';
const SMUGGLED = `0\r\n\r\nGET /order/{order} HTTP/1.1\r\nHost: ${HOST}\r\n\r\n`;

const paths = (expects: string, method: string, list: string, heads: Heads = {}): readonly Line[] =>
  list.split('¦').map((path) => [expects, method, path, heads]);

/** Wherever a visitor's words go, with the same word in each place. */
const everywhere = (word: string): readonly Line[] => [
  [TAKEN, 'GET', `/${M}?bike={${word}%}&language={${word}%}`],
  [TAKEN, 'GET', `/${M}/picture/{${word}%}`],
  [TAKEN, 'GET', `/${M}/basket`, { Cookie: `${BASKET}={${word}%}; {${word}~}=1`, Referer: `{${word}~}` }],
  [TAKEN, 'POST', `/${M}/basket`, OURS, { token: '{token}', do: 'code', code: `{${word}}` }],
  [TAKEN, 'POST', `/${M}/basket`, OURS, { token: '{token}', do: 'put', line: `{${word}}`, count: `{${word}}` }],
  [TAKEN, 'POST', `/${M}/order`, { Cookie: '{fresh}' }, { token: '{token}', ...ORDER, name: `{${word}}` }],
  [TAKEN, 'POST', `/${M}/order`, OURS, { token: '{token}', ...ORDER, name: `{${word}}`, mail: `{${word}}` }],
  [TAKEN, 'POST', `/${M}/not-me`, {}, { words: `{${word}}`, contact: `{${word}}`, bike: `{${word}}` }],
];

/** Of another site, or a page that was kept: cookie, word or origin is not what it should be. */
const otherSite = (path: string): readonly Line[] => {
  const fields = { ...ORDER, do: 'put', line: ONE_LINE, password: PASSWORD };
  const asked = (Cookie: string, token: string, more: Heads = {}): Line => [
    '403',
    'POST',
    path,
    { Cookie, ...more },
    { ...fields, token },
  ];
  return [
    asked('{cookie}', ''),
    asked('{cookie}', '{otherToken}'),
    asked('{otherCookie}', '{token}'),
    asked('__Host-form={hex}', '{token}'),
    asked('{cookie}', '{hex}{hex}'),
    asked('{cookie}', '{token}', { Origin: '{origin}' }),
  ];
};

const webhook = (random: Random, { known }: Attacker): Line => {
  const id = `msg_${random.integer(0, 1e9)}`;
  const data = { order: random.oneOf(known.orders), amount: random.integer(1, 9999), currency: 'GBP', reference: id };
  const body = JSON.stringify({ type: random.oneOf(['payment.succeeded', 'payment.refunded']), data });
  const good = webhookHeads(known.webhookKey, id, body);
  const signature = good['webhook-signature']!;
  const to = (heads: Heads, text = body, expects = '401'): Line => [expects, 'POST', '/webhook/till', heads, text];
  return random.oneOf<Line>([
    // Taken again as what it was, and counted once.
    to(known.webhook.heads, known.webhook.body, '204'),
    to(webhookHeads(Buffer.alloc(32, random.integer(0, 255)), id, body)),
    to(webhookHeads(known.webhookKey, id, body, -random.integer(301, 90_000))),
    to(webhookHeads(known.webhookKey, id, body, random.integer(303, 90_000))),
    to(good, body.replace('"amount":', '"amount":9')),
    to({ ...good, 'webhook-id': `${id}${random.oneOf(['0', '.1', ''.padEnd(300, 'x')])}` }),
    to({ ...good, 'webhook-signature': signature.replace('v1,', random.oneOf(['v1a,', 'v0,', ''])) }),
    to({ ...good, 'webhook-signature': signature.slice(0, -random.integer(1, 20)) }),
    to({ ...good, 'webhook-signature': `${'v1,AAAA '.repeat(40)}${signature}` }),
    to({ ...good, 'webhook-timestamp': random.oneOf(['', '-1', '1e9', '9'.repeat(30)]) }),
    [NONE, 'POST', `/webhook/${id}`, good, body],
  ]);
};

/** By kind; each kind is asked as often as the others. */
const KINDS: Readonly<Record<string, readonly Line[] | ((random: Random, attacker: Attacker) => Line)>> = {
  traversal: [
    ...paths(
      NONE,
      'GET',
      `/{up}¦/order/{up}¦/order/{own}/{up}¦/${M}/{up}¦/${M}/picture/{up}¦/look/{up}¦/handed/{forged}/{up}`,
    ),
    ...paths(NONE, 'GET', '/for/{up}¦/for/{share}/{up}¦/for/{share}/pictures/{up}¦/for/{share}/papers/{up}'),
    ...everywhere('up'),
  ],
  'wrong host': [
    ...paths('421 400', 'GET', '/¦/order/{order}¦/for/{share}', { Host: '{evil}' }),
    ['421 400', 'GET', `http://evil.example/${M}`],
    ['421 400', 'GET', `/${M}`, { Host: HOST, host: 'evil.example' }],
    ['200', 'GET', `/${M}`, { 'X-Forwarded-Host': 'evil.example', Forwarded: 'host=evil.example' }],
  ],
  'too large': [
    ['413', 'POST', `/${M}/order`, OURS, 'name={long}'],
    ['413', 'POST', '/webhook/till', { 'Transfer-Encoding': 'chunked' }, '11170\r\n{long}\r\n0\r\n\r\n'],
    ['413', 'POST', `/${M}/not-me`, { 'Content-Length': '99999999999' }, 'x'],
    ['431', 'GET', '/{long}'],
    ['431', 'GET', '/', { Cookie: '__Host-form={long}' }],
  ],
  webhook,
  link: [
    ...paths(NONE, 'GET', '/handed/{forged}¦/handed/{forged}/all.zip¦/handed/{forged}/1.jpg', { Range: '{range}' }),
    ...paths('410', 'GET', '/handed/{expired}¦/handed/{expired}/all.zip¦/handed/{expired}/1.jpg', { Range: '{range}' }),
    ...paths('410', 'GET', '/handed/{revoked}¦/handed/{revoked}/all.zip'),
    // A fresh one is asked for by whoever has the old one, and shown to nobody.
    [NONE, 'POST', '/handed/{forged}/renew'],
    ['200', 'POST', '/handed/{expired}/renew'],
    ['303', 'POST', '/handed/{revoked}/renew'],
  ],
  'guessed id': [
    ...paths(NONE, 'GET', '/order/{near}¦/order/{near}/invoice-T2026-1.pdf¦/order/{near}/withdrawal.txt¦/{near}'),
    ...paths(NONE, 'GET', `/${M}/picture/{near}¦/${M}/rider/{near}¦/for/{near}¦/for/{near}/small/${SHARED_FILE}`),
    ...paths(NONE, 'POST', '/order/{near}/letter¦/order/{near}/cancel'),
  ],
  markup: everywhere('markup'),
  SQL: everywhere('sql'),
  'line breaks and nulls': [
    ...everywhere('breaks'),
    ...paths(NONE, 'GET', `/${M}/{breaks%}¦//evil.example/%0d%0aX-Injected:1`),
    ['400', 'GET', `/${M}`, { 'X-A': 'a\0' }],
    ['400', 'GET', `/${M}`, { 'X-A': 'a\rX-Injected: 1' }],
  ],
  'over-long UTF-8': [
    ...paths(NONE, 'GET', '/{overLong}{overLong}etc/passwd¦/\xc0\xae\xc0\xae\xc0\xaf\xff'),
    ['200 400', 'GET', `/${M}?bike={overLong}`, { Cookie: '__Host-form={overLong}' }],
    // A code that can be none is said on the basket's page.
    ['200', 'POST', `/${M}/basket`, OURS, 'token={token}&do=code&code={overLong}&line={overLong}'],
  ],
  'prototype pollution': [
    ['303', 'POST', `/${M}/basket`, OURS, { token: '{token}', '{proto}': 'x', '{proto}[a]': 'y' }],
    [TAKEN, 'POST', `/${M}/not-me`, {}, { '{proto}': 'x' }],
    ['200', 'GET', `/${M}?{proto}=1&language={proto}`, { Cookie: '{proto}=1; __Host-van={proto}' }],
    ['401', 'POST', '/webhook/till', {}, PROTO],
    // With the key: what the photographer's own machine might be made to send.
    ['422', 'PUT', 'admin:/api/offers', KEY, PROTO],
    ['422', 'POST', 'admin:/api/orders/{hex}/facts', KEY, PROTO],
    ['422', 'POST', 'admin:/api/handing/{hex}/sign', KEY, '{"{proto}":'],
  ],
  'content type': [
    ['403 400', 'POST', `/${M}/basket`, { ...OURS, 'Content-Type': '{type}' }, '{"token":"{token}","do":"put"}'],
    ['403 400', 'POST', `/${M}/order`, { ...OURS, 'Content-Type': '{type}' }, '<!DOCTYPE a SYSTEM "file:///b"><a/>'],
    ['403 400', 'POST', `/${M}/order`, { ...OURS, 'Content-Encoding': 'gzip' }, '\0\0%%%'],
    // No file is taken anywhere.
    ['400', 'POST', `/${M}/not-me`, UPLOAD, FILE],
    [NONE, 'PUT', '/look/x.php', UPLOAD, FILE],
  ],
  method: [
    ...paths('400 404 405 501 0', '{method}', `/${M}¦/order/{order}¦/api/orders`),
    ['400 421', 'OPTIONS', '*'],
    ['200', 'GET', `/${M}?_method=DELETE`, { 'X-HTTP-Method-Override': 'DELETE' }],
  ],
  'other site': `/${M}/basket¦/${M}/order¦/order/{own}/cancel¦/order/{own}/pay¦/order/{order}/withdraw¦/for/{share}`
    .split('¦')
    .flatMap(otherSite),
  'admin from outside': [
    [NONE, 'GET', '{api}'],
    [NONE, '{verb}', '{api}', KEY],
    [NONE, 'GET', `/${M}/..{api}`, KEY],
  ],
  'admin without the key': [
    ['401', '{verb}', 'admin:{api}', { Authorization: '{wrongKey}' }],
    ['401', 'GET', 'admin:{api}?key={key}', { Cookie: 'authorization=Bearer {key}', 'X-Api-Key': '{key}' }],
    // A name that was turned to this machine after its page was loaded.
    ['421 400', '{verb}', 'admin:{api}', { Host: '{evil}', Origin: 'http://evil.example', ...KEY }],
  ],
  'shared page': [
    ['403 429', 'POST', '/for/{share}', OURS, { token: '{token}', password: '{guess}' }],
    ...paths(NONE, 'GET', `/for/{share}/pictures/${SHARED_FILE}¦/for/{share}/papers/captions.csv`, SHARE),
    ['200', 'GET', '/for/{share}', SHARE],
  ],
  framing: [
    ['400', 'POST', `/${M}/not-me`, { 'Content-Length': '4', 'Transfer-Encoding': 'chunked' }, SMUGGLED],
    ['400', 'POST', `/${M}/not-me`, { 'Content-Length': '0', 'content-length': '60' }, SMUGGLED],
    ['400', 'POST', `/${M}/not-me`, { 'Content-Length': '{length}' }, SMUGGLED],
    ['400 413 0', 'POST', `/${M}/not-me`, { 'Transfer-Encoding': 'chunked' }, '{chunk}'],
    ['400 505', '{noise}', `/${M}`],
  ],
};

/** Lists are parted by `¦`. */
function wordsOf({ known, ports, ...who }: Attacker): Readonly<Record<string, (random: Random) => string>> {
  const any = (list: string) => (random: Random) => random.oneOf(list.split('¦'));
  const hex = (random: Random) => Array.from({ length: 32 }, () => random.integer(0, 15).toString(16)).join('');
  const turned = (random: Random, text: string) => {
    const at = random.integer(0, text.length - 1);
    return `${text.slice(0, at)}${text[at] === 'a' ? 'b' : 'a'}${text.slice(at + 1)}`;
  };
  const { good, expired, revoked } = known.links;
  const parts = good.split('.');
  const swapped = (n: number, part: string) => parts.map((one, i) => (i === n ? part : one)).join('.');
  const upwards = any('../¦..%2f¦%2e%2e/¦..%5c¦..\\¦%252e%252e%252f¦....//¦..;/¦..%00/');
  const wanted = any('etc/passwd¦settings.json¦admin.key¦orders.db¦share.json¦proc/self/environ');
  const others = [[0, revoked.split('.')[0]!] as const, [4, expired.split('.')[4]!] as const];
  return {
    hex,
    up: (random) => upwards(random).repeat(random.integer(1, 8)) + wanted(random),
    near: (random) => {
      const id = random.oneOf([...known.orders, known.share]);
      const beside = (BigInt(`0x${id}`) ^ BigInt(random.integer(1, 4096))).toString(16).padStart(32, '0');
      return random.oneOf([beside, turned(random, id), id.slice(1), `${id}0`, hex(random), '4711']);
    },
    forged: (random) => {
      const swaps = [[1, pictureId(1)], [2, '2'], [3, 'zzzzzz'], [0, hex(random)], ...others] as const;
      const cut = good.slice(0, -random.integer(1, 30));
      return random.oneOf([turned(random, good), cut, `${good}0`, ...swaps.map(([n, part]) => swapped(n, part))]);
    },
    order: (random) => random.oneOf(known.orders),
    own: any(who.ownOrder),
    share: any(known.share),
    expired: any(expired),
    revoked: any(revoked),
    key: any(known.adminKey),
    wrongKey: any(
      `Bearer ${known.adminKey.slice(1)}0¦Bearer ${known.adminKey}0¦bearer ${known.adminKey}¦Basic YTpi¦Bearer `,
    ),
    api: any('/api/orders¦/api/facts¦/api/messages¦/api/papers/T2026¦/api/offers¦/api/handing¦/api/finals'),
    verb: any('GET¦POST¦PUT¦DELETE'),
    method: any('PUT¦DELETE¦PATCH¦OPTIONS¦TRACE¦CONNECT¦PROPFIND¦TRACK¦get¦G E T¦PURGE'),
    cookie: () => who.self.cookie,
    // Another basket, so that it is another order.
    fresh: (random) => who.self.cookie.replace(/(basket-\w+=)[0-9a-f]{32}/, `$1${hex(random)}`),
    token: () => who.self.token,
    otherCookie: () => who.other.cookie,
    otherToken: () => who.other.token,
    origin: any(`https://evil.example¦null¦http://${HOST}¦https://${HOST}.evil.example`),
    evil: any(`evil.example¦${HOST}.evil.example¦${HOST}@evil.example¦${HOST}:81¦¦0.0.0.0:${ports.public}¦${HOST}, b`),
    range: any('bytes=0-¦bytes=-5¦bytes=0-0,2-3¦bytes=99999-¦bytes=5-1'),
    long: () => 'x'.repeat(70_000),
    slow: () => 'x'.repeat(2000),
    code: any(known.code),
    markup: any(
      '<script>alert(1)</script>¦"><img src=x onerror=alert(1)>¦</title><svg onload=alert(1)>¦" autofocus onfocus=alert(1) x="¦\u202e<script\u2028>',
    ),
    sql: any(
      "' OR '1'='1¦1'; DROP TABLE facts; --¦' UNION SELECT body FROM facts --¦%' OR name LIKE '%¦\" OR 1=1 --¦'; ATTACH DATABASE 'x' AS x; --",
    ),
    breaks: any(
      'x\r\nX-Injected: 1¦x\r\n\r\n<script>¦x\nSet-Cookie: hacked=1¦\0¦x\0.jpg¦\ud800¦a\r\nBcc: all@evil.example¦\u001b[2J¦\ufeff',
    ),
    overLong: any('%c0%ae%c0%ae%c0%af¦%e0%80%af¦%f0%80%80%af¦%ed%a0%80¦%ff%fe¦%c0%bcscript%c0%be¦%80¦%'),
    proto: any('__proto__¦constructor¦prototype¦__proto__[isOurs]¦constructor.prototype.isOurs'),
    type: any('application/json¦text/plain¦text/xml¦multipart/form-data; boundary=¦a/b/c¦text/html; charset=utf-7'),
    seal: (random) => `${random.oneOf([String(Date.now() + 1e6), '9e99', ''])}.${hex(random)}${hex(random)}`,
    guess: any(`¦password¦${PASSWORD.slice(1)}¦${PASSWORD.toUpperCase()}¦$argon2id$¦' OR 1=1 --¦${'x'.repeat(5000)}`),
    length: any('-1¦1e3¦0x10¦+5¦5, 5¦'),
    chunk: any('-1\r\nx\r\n0\r\n\r\n¦zz\r\nx\r\n¦5;\n\r\nhello\r\n0\r\n\r\n¦ffffffffffffffffff\r\nx'),
    noise: any('\x16\x03\x01\x02\0\x01¦PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n¦GET / HTTP/9.9\r\n¦\0\0\0\r\n\r\n¦GET\t/'),
  };
}

/** From one address: ids are tried until the door is shut, for what is there, too; from another, codes of vouchers. */
const GUESSES: readonly (readonly [times: number, ...Line])[] = [
  [60, '404 429', 'GET', '/order/{hex}', { 'X-Forwarded-For': '198.51.100.3' }],
  [1, '429', 'GET', '/order/{order}', { 'X-Forwarded-For': '198.51.100.3' }],
  [
    20,
    '200 429',
    'GET',
    `/${M}/basket`,
    { 'X-Forwarded-For': '198.51.100.4', Cookie: `${BASKET}={hex}!A-1!${ONE_LINE}` },
  ],
  [
    1,
    '429',
    'GET',
    `/${M}/basket`,
    { 'X-Forwarded-For': '198.51.100.4', Cookie: `${BASKET}={hex}!{code}!${ONE_LINE}` },
  ],
];

/** Sent but for the last nineteen hundred bytes, and those one by one. */
const SLOW = {
  head: ['408 400 0', 'GET', `/${M}`, { 'X-Slow': '{slow}' }],
  body: ['408 400 0', 'POST', `/${M}/not-me`, { 'Content-Length': '5000' }, '{slow}'],
} satisfies Record<string, Line>;

export function hostileRequests(random: Random, attacker: Attacker) {
  const words = wordsOf(attacker);
  const filled = (text: string) =>
    text.replace(/\{(\w+)([%~]?)\}/g, (_, name: string, how: string) => {
      const word = words[name]!(random);
      if (how === '%') return encodeURIComponent(word.replace(/\p{Cs}/gu, '\ufffd'));
      return how === '~' ? word.replace(/[^\x20-\xff]/g, '') : word;
    });
  const filledAll = (all: Heads) => Object.fromEntries(Object.entries(all).map((pair) => pair.map(filled)));
  const one = (kind: string, [expects, method, path, heads = {}, body = '']: Line): Hostile => {
    const isAdmin = path.startsWith('admin:');
    const isForm = typeof body !== 'string';
    // From an address of its own each time, or the limits would answer for all that lies behind them.
    const from = { 'X-Forwarded-For': `10.${[0, 0, 0].map(() => random.integer(0, 255)).join('.')}` };
    const type = isForm || /^(?:name|token)=/.test(body) ? { 'Content-Type': 'application/x-www-form-urlencoded' } : {};
    const asked = {
      method: filled(method),
      path: filled(path.replace('admin:', '')),
      headers: { ...from, ...type, ...filledAll(heads) },
      body: isForm ? new URLSearchParams(filledAll(body)).toString() : filled(body),
    };
    const bytes = bytesOf(asked, isAdmin ? `127.0.0.1:${attacker.ports.admin}` : HOST);
    return { kind, side: isAdmin ? 'admin' : 'public', bytes, expects: expects.split(' ').map(Number) };
  };
  const times = <T>(count: number, make: () => T) => Array.from({ length: count }, make);
  return {
    all: (ofEach: number) =>
      random.shuffled(
        Object.entries(KINDS).flatMap(([kind, lines]) =>
          times(ofEach, () => one(kind, typeof lines === 'function' ? lines(random, attacker) : random.oneOf(lines))),
        ),
      ),
    slow: (part: keyof typeof SLOW, count: number) => times(count, () => one(`slow ${part}`, SLOW[part])),
    guesses: () => GUESSES.flatMap(([count, ...line]) => times(count, () => one('many guesses', line))),
  };
}
