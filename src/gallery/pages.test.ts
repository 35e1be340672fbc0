import { describe, expect, it } from 'vitest';
import { galleryDay } from '../../test/builders/galleryDay.js';
import { SHOWN_SHOP, shownGallery } from '../../test/builders/shownGallery.js';
import type { Question } from '../core/arrange/types.js';
import { planGallery } from '../core/handover/index.js';
import type { RiderId, RiderKey } from '../core/ids.js';
import { LANGUAGES, pagesOf } from './index.js';

const gallery = shownGallery({ riders: 3 });
const htmlOf = (pages: ReturnType<typeof pagesOf>, path: string): string =>
  pages.find((page) => page.path === path)!.html;

describe('the pages in several languages', () => {
  it('have the same names and ids, and each leads to itself in every other language', () => {
    const pages = pagesOf(gallery, { language: 'de' });
    const own = pages.filter(({ path }) => !/^[a-z]{2}\//.test(path)).map(({ path }) => path);
    expect(pages).toHaveLength(own.length * LANGUAGES.length);
    const paths = new Set(pages.map(({ path }) => path));
    for (const path of own)
      for (const language of LANGUAGES.filter((one) => one !== 'de')) expect(paths).toContain(`${language}/${path}`);
    expect(htmlOf(pages, 'index.html')).toContain('<html lang="de" dir="ltr">');
    const arabic = htmlOf(pages, `ar/rider/${gallery.riders[0]!.publicId}.html`);
    expect(arabic).toContain('<html lang="ar" dir="rtl">');
    expect(arabic).toContain(`hreflang="de" href="../../rider/${gallery.riders[0]!.publicId}.html"`);
    expect(arabic).toContain(`src="../../small/`);
  });

  it('say no livery in English on pages in another language', () => {
    for (const { path, html } of pagesOf(gallery).filter((page) => page.path.startsWith('fr/')))
      expect(html.replace(/<[^>]*>/g, ' '), path).not.toMatch(/\b(?:leathers|helmet|riders?|orange bikes)\b/);
  });
});

describe('GA8: whoever is not found, or is somebody else,', () => {
  it('writes to the order service where one is known, and to nobody else', () => {
    const pages = pagesOf(gallery, { shop: SHOWN_SHOP });
    const html = htmlOf(pages, 'cannot-find.html');
    expect(html).toContain(`action="${SHOWN_SHOP.address}/${SHOWN_SHOP.meeting}/cannot-find-me?language=en"`);
    expect(html).toContain(`form-action ${SHOWN_SHOP.address}"`);
    expect(htmlOf(pages, `rider/${gallery.riders[0]!.publicId}.html`)).toContain('form="not-me" name="picture"');
    const { publicId } = gallery.riders[0]!;
    const asked = `${SHOWN_SHOP.meeting}/take-down?language=ar"><input type="hidden" name="rider" value="${publicId}">`;
    expect(htmlOf(pages, `ar/rider/${publicId}.html`)).toContain(asked);
    expect(htmlOf(pagesOf(gallery), `rider/${publicId}.html`)).not.toContain('take-down');
  });

  it('writes a mail where only an address is known, with what the page knows filled in', () => {
    const pages = pagesOf(gallery);
    const html = htmlOf(pages, 'session-n1.html');
    expect(html).toContain('enctype="text/plain"');
    expect(html).toContain('form-action mailto:');
    expect(html).toContain(`body=${encodeURIComponent('N1, 09:00')}`);
    expect(htmlOf(pages, `rider/${gallery.riders[0]!.publicId}.html`)).toContain(
      `href="mailto:pictures@quill.invalid?subject=${encodeURIComponent('Not me: Ebbstone')}`,
    );
  });

  it('is told where to ask where there is no address, and led to a web address where there is one', () => {
    expect(htmlOf(pagesOf({ ...gallery, contact: null }), 'cannot-find.html')).toContain(
      'ask the photographer at the track',
    );
    const web = htmlOf(pagesOf({ ...gallery, contact: 'https://quill.invalid/write' }), 'cannot-find.html');
    expect(web).toContain('<a href="https://quill.invalid/write"');
    expect(web).toMatch(/form-action (?:'|&#39;|&apos;)none/);
  });
});

it('GA18: a spot nobody stood at is no rider’s gap; one that has nothing of this rider is', () => {
  const [rider] = gallery.riders;
  const pictures = rider!.pictures.filter(({ spot }) => spot === 'Beacon');
  expect(pictures.length).toBeGreaterThan(0);
  const html = htmlOf(pagesOf({ ...gallery, riders: [{ ...rider!, pictures }] }), `rider/${rider!.publicId}.html`);
  expect(html).toContain('Nothing at Gannet: sorry.');
  expect(html).not.toContain('Strand');
});

it('GA9: an open question about two riders is shown to both, one that is hardly likely to none', () => {
  const day = galleryDay({ riders: 3 });
  const asked = (a: string, b: string, confidence: number): Question => ({
    kind: 'same-rider',
    id: `${a} ${b}`,
    a: a as RiderKey,
    b: b as RiderKey,
    faces: [day.arrangement.riders[0]!.face, day.arrangement.riders[1]!.face],
    confidence,
    reasons: [],
    worth: 1,
  });
  const questions = [asked('r0', 'r1', 0.4), asked('r2', 'r0', 0.05)];
  const plan = planGallery({
    ...day,
    arrangement: { ...day.arrangement, questions },
    edition: 'e',
    contact: null,
    proofs: new Map(day.arrangement.exposures.map((one) => [one.frameId, { widthPx: 1400, heightPx: 933 }])),
    publicIdOf: (kind, what) => `${kind} ${what}`,
    mint: (face) => face as RiderId,
  });
  const perhaps = Object.fromEntries(plan.gallery.riders.map((rider) => [rider.key, rider.perhaps]));
  const idOf = (key: string) => plan.gallery.riders.find((rider) => rider.key === key)!.publicId;
  expect(perhaps).toEqual({
    r0: [{ publicId: idOf('r1'), confidence: 0.4 }],
    r1: [{ publicId: idOf('r0'), confidence: 0.4 }],
    r2: [],
  });
});
