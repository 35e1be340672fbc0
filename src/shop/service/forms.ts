/**
 * Forms are taken from our own pages only: a cookie that scripts cannot read, and beside it in the form a word reckoned from it with the
 * service's secret. The cookie is `lax`, since visitors come by a link from the gallery's address; posts from other sites come without it.
 */
import { createHmac, randomBytes, timingSafeEqual } from 'node:crypto';
import type { Context } from 'hono';
import { getCookie, setCookie } from 'hono/cookie';
import { isLanguage, type Language, languageFor } from '../pages/words/index.js';
import type { ShopPorts } from './types.js';

/** Long enough to come back to a basket the next weekend. */
const KEPT_S = 14 * 24 * 3600;

export interface Forms {
  /** For the hidden field; gives the browser its cookie where it has none. */
  token(context: Context): string;
  isOurs(context: Context, token: unknown): boolean;
  cookie(context: Context, name: string): string | undefined;
  setCookie(context: Context, name: string, value: string): void;
  /** As asked in the address, which is kept; else as kept, else as the browser says. */
  language(context: Context): Language;
}

export function formsOf({ settings, site }: Pick<ShopPorts, 'settings' | 'site'>): Forms {
  const isSecure = site.startsWith('https:');
  // The prefix keeps other hosts of the same domain and plain HTTP from setting them (RFC 6265bis).
  const named = (name: string) => (isSecure ? `__Host-${name}` : name);
  const options = { httpOnly: true, sameSite: 'Lax', path: '/', secure: isSecure, maxAge: KEPT_S } as const;
  const tokenOf = (cookie: string) =>
    createHmac('sha256', Buffer.from(settings.secret, 'hex')).update(`form ${cookie}`).digest('hex');
  const read = (context: Context) => {
    const cookie = getCookie(context, named('form'));
    return cookie !== undefined && /^[0-9a-f]{32}$/.test(cookie) ? cookie : undefined;
  };
  return {
    token(context) {
      const cookie = read(context) ?? randomBytes(16).toString('hex');
      setCookie(context, named('form'), cookie, options);
      return tokenOf(cookie);
    },
    isOurs(context, token) {
      const cookie = read(context);
      const origin = context.req.header('origin');
      if (origin !== undefined && origin !== new URL(site).origin) return false;
      if (cookie === undefined || typeof token !== 'string' || token.length !== 64) return false;
      return timingSafeEqual(Buffer.from(tokenOf(cookie)), Buffer.from(token));
    },
    cookie: (context, name) => getCookie(context, named(name)),
    setCookie: (context, name, value) => setCookie(context, named(name), value, options),
    language(context) {
      const asked = context.req.query('language');
      if (isLanguage(asked)) setCookie(context, named('language'), asked, options);
      const kept = getCookie(context, named('language'));
      if (isLanguage(asked)) return asked;
      return isLanguage(kept) ? kept : languageFor(context.req.header('accept-language'));
    },
  };
}
