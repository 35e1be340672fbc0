/** What the gallery's pages let a browser do: GA4, GA5 and HO6 of docs/rules, on every page in every language, under hostile names. */
import { createHash } from 'node:crypto';
import { expect, it } from 'vitest';
import { SHOWN_SHOP, shownGallery } from '../../test/builders/shownGallery.js';
import { readStyle } from '../host/gallery/look.js';
import { pagesOf } from './index.js';

it('a page runs no script and wears no style but its own, and a name is never a tag', async () => {
  const pages = pagesOf(shownGallery({ riders: 3, longNames: true }), { shop: SHOWN_SHOP, style: await readStyle() });
  expect(pages.length).toBeGreaterThan(60);
  const own = new URL(SHOWN_SHOP.address).origin;
  for (const { path, html } of pages) {
    const style = /<style>([^<]*)<\/style>/.exec(html)?.[1] ?? '';
    const hash = createHash('sha256').update(style).digest('base64');
    const [, policy = ''] = /http-equiv="Content-Security-Policy" content="([^"]+)"/.exec(html) ?? [];
    const said = policy.replaceAll('&#39;', "'").replaceAll('&apos;', "'");
    expect([path, said]).toEqual([
      path,
      `default-src 'none'; img-src 'self' data:; style-src 'self' 'sha256-${hash}'; script-src 'self'; connect-src 'self' ${own}; font-src 'self'; base-uri 'none'; form-action ${own}`,
    ]);
    expect(html, path).not.toMatch(/<script(?! src="[./]*look\/)|<[^>]+ (?:style|on[a-z]+)=|javascript:|<b>& friends/i);
  }
});
