/** What every request of the public side passes: address, size, pace, policy. Rules OR28–OR30. */
import { getConnInfo } from '@hono/node-server/conninfo';
import type { Context, MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { secureHeaders } from 'hono/secure-headers';
import { MESSAGE_KINDS, type Offer } from '../../core/handover/orders/index.js';
import { type Allowance, Limiter, visitorOf } from './limiter.js';
import type { ShopPorts } from './types.js';

const MOST_BODY_BYTES = 64 * 1024;

/** Riders of one paddock often come by one address, so pages have room for two hundred; guessing and filling have not. */
export const ALLOWANCES = {
  pages: { perSecond: 100, atOnce: 1500 },
  orders: { perSecond: 5, atOnce: 120 },
  /** The gallery's script cannot hear that one was turned away, so there is room for a paddock's evening. */
  messages: { perSecond: 0.2, atOnce: 120 },
  /** Codes of vouchers that are not known here: they are short and typed by hand, so trying them through must take years. */
  codes: { perSecond: 0.05, atOnce: 10 },
  /** Addresses that led nowhere. */
  misses: { perSecond: 0.5, atOnce: 40 },
} as const satisfies Record<string, Allowance>;

/** What phones ask for by themselves, two hundred of them behind one address: nobody guesses there. */
const BY_ITSELF = /^\/(?:favicon\.ico|robots\.txt|apple-touch-icon[a-z0-9-]*\.png|\.well-known\/)/;

export interface Guards {
  readonly all: readonly MiddlewareHandler[];
  /** False where this visitor has asked too much of that; takes nothing of what is left when `cost` is nothing. */
  may(context: Context, what: keyof typeof ALLOWANCES, cost?: number): boolean;
  missed(context: Context): void;
}

export interface GuardSettings {
  /** A proxy in front says whose request it is, at the end of `X-Forwarded-For`. */
  readonly isBehindProxy: boolean;
  /** Other hosts it may be asked as, with their ports, as `192.168.4.1:8420`. */
  readonly hosts: readonly string[];
}

export function guardsOf(
  ports: ShopPorts,
  settings: GuardSettings,
  tooMany: (context: Context) => Promise<Response>,
): Guards {
  const limiters = Object.fromEntries(
    Object.entries(ALLOWANCES).map(([what, allowance]) => [what, new Limiter(allowance, ports.now)]),
  ) as Record<keyof typeof ALLOWANCES, Limiter>;
  const hosts = new Set([new URL(ports.site).host, ...settings.hosts]);
  const whoOf = (context: Context) => visitorOf(addressOf(context, settings.isBehindProxy));
  const checkHost: MiddlewareHandler = async (context, next) => {
    const asked = [context.req.header('host') ?? '', ...targetHost(context.env?.incoming?.url)];
    if (!asked.every((host) => hosts.has(host))) return context.text('Not here.', 421);
    return next();
  };
  const checkPace: MiddlewareHandler = async (context, next) => {
    const who = whoOf(context);
    // Who has guessed too often is turned away before anything is looked up.
    if (!limiters.misses.take(who, 0) || !limiters.pages.take(who)) return tooMany(context);
    return next();
  };
  const tooLarge = (context: Context) => context.text('Too large.', 413);
  return {
    all: [headersFor(ports), checkHost, checkPace, bodyLimit({ maxSize: MOST_BODY_BYTES, onError: tooLarge })],
    may: (context, what, cost) => limiters[what].take(whoOf(context), cost),
    missed: (context) => void (BY_ITSELF.test(context.req.path) || limiters.misses.take(whoOf(context))),
  };
}

/** A request line with a whole address in it counts before `Host` (RFC 9112, 3.2.2). */
const targetHost = (target = '/'): readonly string[] =>
  target.startsWith('/') ? [] : [/^https?:\/\/([^/?#]*)/i.exec(target)?.[1] ?? ''];

function addressOf(context: Context, isBehindProxy: boolean): string {
  if (isBehindProxy) return context.req.header('x-forwarded-for')?.split(',').at(-1)?.trim() ?? '';
  // Without a socket, as in tests, all are one visitor.
  return context.env?.incoming === undefined ? '' : (getConnInfo(context).remote.address ?? '');
}

/** Pictures come from the gallery, and a form may lead on to whoever takes the payment; all else is ours alone. */
function headersFor({ provider, store, site }: ShopPorts): MiddlewareHandler {
  const ours = ["'self'"];
  return async (context, next) => {
    const galleries = (await store.offers()).flatMap(originOf);
    return secureHeaders({
      contentSecurityPolicy: {
        defaultSrc: ["'none'"],
        styleSrc: ours,
        fontSrc: ours,
        imgSrc: [...ours, 'data:', ...new Set(galleries)],
        formAction: [...ours, ...(provider === null ? [] : [provider.origin])],
        baseUri: ["'none'"],
        frameAncestors: ["'none'"],
      },
      strictTransportSecurity: site.startsWith('https:') ? 'max-age=31536000' : false,
      // Not `no-referrer`: with that browsers send our own forms without saying whose they are (Fetch, origin of a request).
      referrerPolicy: 'same-origin',
      xFrameOptions: 'DENY',
      crossOriginOpenerPolicy: 'same-origin',
      // The gallery's script may learn that its message came through, and nothing else.
      crossOriginResourcePolicy: isMessage(context.req.path) ? 'cross-origin' : 'same-origin',
      permissionsPolicy: { camera: [], microphone: [], geolocation: [] },
    })(context, next);
  };
}

const isMessage = (path: string): boolean => MESSAGE_KINDS.some((kind) => path.endsWith(`/${kind}`));

const originOf = ({ gallery }: Offer): readonly string[] =>
  gallery !== null && URL.canParse(gallery) ? [new URL(gallery).origin] : [];
