/**
 * Who may speak to the desk. It listens on loopback only; a page of another site must not reach it through the
 * browser (Host and Origin checked), nor another user of this machine (paired by token).
 */
import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import type { Context, MiddlewareHandler } from 'hono';
import { getCookie, setCookie } from 'hono/cookie';
import { DeskError } from './DeskError.js';

const LOOPBACK_NAMES = new Set(['127.0.0.1', 'localhost', '[::1]']);

/** Compares digests, so neither the length nor the first wrong letter can be timed. */
const isSame = (a: string, b: string): boolean =>
  timingSafeEqual(createHash('sha256').update(a).digest(), createHash('sha256').update(b).digest());

const portOf = (host: string): string => /:(\d+)$/.exec(host)?.[1] ?? '80';
const nameOf = (host: string): string => host.replace(/:\d+$/, '');

export interface Guard {
  readonly checkHost: MiddlewareHandler;
  readonly checkPaired: MiddlewareHandler;
  /** Whether the request carries this start's token or cookie. */
  isPaired(context: Context): boolean;
  /** Gives the browser its cookie when the token is right; throws otherwise. */
  pair(context: Context, token: string): void;
}

export interface GuardOptions {
  readonly token: string;
  /** The port listened on, once known; before that any port is believed. */
  readonly port: () => number | null;
}

export function createGuard({ token, port }: GuardOptions): Guard {
  /** The browser never keeps the token itself. */
  const cookieValue = randomBytes(32).toString('base64url');
  // Cookies are shared by all ports of one host, so the port is part of the name.
  const cookieName = (context: Context) => `tyrewall_${portOf(context.req.header('host') ?? '')}`;

  const checkHost: MiddlewareHandler = async (context, next) => {
    const host = context.req.header('host') ?? '';
    const listening = port();
    const isOurs = LOOPBACK_NAMES.has(nameOf(host)) && (listening === null || portOf(host) === String(listening));
    if (!isOurs) throw new DeskError(403, refusedHost(host, listening));
    const origin = context.req.header('origin');
    if (origin !== undefined && origin !== `http://${host}`)
      throw new DeskError(
        403,
        `Expected a request from the desk's own page (http://${host}) but it came from ${origin}. Open the printed address in this browser.`,
      );
    await next();
  };

  const bearerOf = (context: Context): string | undefined =>
    /^Bearer (.+)$/.exec(context.req.header('authorization') ?? '')?.[1];

  const isPaired = (context: Context): boolean => {
    const bearer = bearerOf(context);
    const cookie = getCookie(context, cookieName(context));
    return (bearer !== undefined && isSame(bearer, token)) || (cookie !== undefined && isSame(cookie, cookieValue));
  };

  const checkPaired: MiddlewareHandler = async (context, next) => {
    if (!isPaired(context))
      throw new DeskError(
        401,
        'This browser is not paired with the desk. Open the address that was printed when it started; each start prints a new one.',
      );
    if (bearerOf(context) === undefined && context.req.method !== 'GET' && context.req.header('origin') === undefined)
      throw new DeskError(403, 'Expected a request that says which page it came from. Say it on the desk’s own page.');
    await next();
  };

  const pair = (context: Context, given: string): void => {
    if (!isSame(given, token))
      throw new DeskError(
        401,
        'That pairing word is not this desk’s. Each start has its own: use the address printed by the latest one.',
      );
    setCookie(context, cookieName(context), cookieValue, { httpOnly: true, sameSite: 'Strict', path: '/' });
  };

  return { checkHost, checkPaired, isPaired, pair };
}

const refusedHost = (host: string, port: number | null): string =>
  `Expected the desk's own address (127.0.0.1${port === null ? '' : `:${port}`}) but was asked as ${host || 'nobody'}. The desk speaks to this machine only.`;
