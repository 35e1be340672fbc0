import { existsSync } from 'node:fs';
import { cp, mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { createServer, type Server } from 'node:http';
import { createRequire } from 'node:module';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { dirname, extname, join, normalize } from 'node:path';
import { type Browser, chromium } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fileIdOf } from '../../../test/builders/arrangement.js';
import { drawDay, type GalleryDaySpec, galleryDay } from '../../../test/builders/galleryDay.js';
import { PRIVATE_WORDS } from '../../../test/builders/pictures.js';
import { SHOWN_SHOP, shownGallery } from '../../../test/builders/shownGallery.js';
import { type Gallery, planGallery } from '../../core/handover/index.js';
import type { RiderId } from '../../core/ids.js';
import type { Decision } from '../../core/log/types.js';
import type { ColourName } from '../../core/measure/types.js';
import { pagesOf } from '../../gallery/index.js';
import { faceRegion } from './images.js';
import { GalleryError, makeGallery, meetingSecret } from './index.js';
import { readStyle } from './look.js';
import { mintWith, publicIdsOf } from './secret.js';
import { filesIn } from './takeDown.js';

const SECRET = 'ab'.repeat(32);
let root: string;
/** A meeting with a made gallery; tests that change it work on a copy. */
let template: string;
let first: Awaited<ReturnType<typeof make>>;

async function make(
  meetingFolder: string,
  spec: GalleryDaySpec = {},
  more: Partial<Parameters<typeof makeGallery>[0]> = {},
) {
  return makeGallery({
    state: galleryDay(spec),
    meetingFolder,
    secret: SECRET,
    publishing: { contact: 'pictures@quill.invalid' },
    ...more,
  });
}

async function copyOf(name: string): Promise<string> {
  await cp(template, join(root, name), { recursive: true });
  return join(root, name);
}

beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), 'tyrewall-gallery-'));
  template = join(root, 'meeting');
  await drawDay(galleryDay(), template);
  first = await make(template);
});
afterAll(() => rm(root, { recursive: true }));

const idOf = publicIdsOf(SECRET);
const publishedBy = (report: { decisions: readonly Decision[] }) =>
  report.decisions.find((one) => one.kind === 'published')!;
const riderIdOf = (day: ReturnType<typeof galleryDay>, key: string): RiderId => {
  const rider = day.arrangement.riders.find((one) => one.key === key)!;
  return mintWith(SECRET)(`${rider.face.frameId}:${rider.face.subject}`);
};
const pagesIn = async (folder: string) => {
  const paths = (await filesIn(folder)).filter((path) => path.endsWith('.html'));
  return Promise.all(paths.map(async (path) => ({ path, html: await readFile(join(folder, path), 'utf8') })));
};

/** Every address a page names, as a path in the gallery; addresses that leave it stay as they are. */
function addressesOf(path: string, html: string): readonly string[] {
  return [...html.matchAll(/(?:href|src)="([^"]+)"/g)].map(([, address]) =>
    /^[a-z]+:/.test(address!) ? address! : normalize(join(dirname(path), address!)),
  );
}

describe('the pages of a gallery', () => {
  it('HO6: lead only to files that are there, and fetch nothing from elsewhere', async () => {
    const files = new Set(await filesIn(first.folder));
    const pages = await pagesIn(first.folder);
    expect(pages.length).toBe(first.pages);
    let checked = 0;
    for (const { path, html } of pages) {
      for (const address of addressesOf(path, html)) {
        checked += 1;
        if (address.includes(':')) expect(address).toMatch(/^mailto:pictures@quill\.invalid(\?|$)|^data:,$/);
        else expect(files, `${path} → ${address}`).toContain(address);
      }
    }
    expect(checked).toBeGreaterThan(150);
    const css = /<style>(.*?)<\/style>/s.exec(pages.find(({ path }) => path === 'index.html')!.html)![1]!;
    const letters = [...css.matchAll(/url\("([^"]+)"\)/g)].map(([, url]) => url!);
    expect(letters.length).toBeGreaterThan(1);
    for (const url of letters) expect(files).toContain(url);
    expect(css).not.toMatch(/https?:|@import/);
  });

  it('HO6: are all reached from the first one by links', async () => {
    const pages = new Map((await pagesIn(first.folder)).map(({ path, html }) => [path, html]));
    const reached = new Set(['index.html']);
    for (const path of reached)
      for (const address of addressesOf(path, pages.get(path)!)) if (pages.has(address)) reached.add(address);
    expect([...pages.keys()].filter((path) => !reached.has(path))).toEqual([]);
  });

  it('HO7: hold no camera file name, position, serial number or id of frame and file, nor do their pictures', async () => {
    const day = galleryDay();
    const secrets = [
      ...Object.values(PRIVATE_WORDS),
      'INV_0',
      'DCIM',
      'GPS',
      'Invented',
      SECRET,
      ...day.arrangement.exposures.flatMap((one) => [one.frameId, one.mainFile]),
    ];
    const files = (await filesIn(first.folder)).filter((path) => !path.startsWith('look/'));
    expect(files.length).toBeGreaterThan(40);
    for (const path of files) {
      const bytes = await readFile(join(first.folder, path));
      for (const secret of secrets)
        expect(bytes.includes(secret) || path.includes(secret), `${path}: ${secret}`).toBe(false);
    }
  });

  it('HO8: ask not to be indexed, every one of them', async () => {
    for (const { html } of await pagesIn(first.folder))
      expect(html).toContain('<meta name="robots" content="noindex, nofollow');
    expect(await readFile(join(first.folder, 'robots.txt'), 'utf8')).toContain('Disallow: /proof/');
  });

  it('HO9: show a number that was read as a guess, and one that was said in a plate', async () => {
    const state = galleryDay({ about: { r1: { number: '94', numberConfidence: 0.82 } } });
    const pages = pagesOf(planOf(state).gallery);
    const numbers = pages.find((page) => page.path === 'numbers.html')!.html;
    expect(numbers).toContain('<span class="guess">perhaps 94, 82 of 100 sure</span>');
    expect(numbers).toContain('<span class="plate">7</span>');
    expect(pages.map((page) => page.html).join('')).not.toMatch(/alt="[^"]*number 94/);
  });

  it('HO9: never call a guess certain', () => {
    const state = galleryDay({ about: { r1: { number: '27', numberConfidence: 0.999 } } });
    const numbers = pagesOf(planOf(state).gallery).find((page) => page.path === 'numbers.html')!.html;
    expect(numbers).toContain('perhaps 27, 99 of 100 sure');
  });

  it('HO10: stay below 100 KB for 120 riders, and go over several pages for 400', async () => {
    const style = await readStyle();
    for (const riders of [120, 400]) {
      const pages = pagesOf(shownGallery({ riders, picturesEach: 25 }), { shop: SHOWN_SHOP, style });
      const sizes = pages.map((page) => Buffer.byteLength(page.html));
      expect(Math.max(...sizes)).toBeLessThan(100_000);
      expect(pages.some((page) => page.path === 'riders-page-4.html')).toBe(riders === 400);
      const html = pages.map((page) => page.html).join('');
      expect(html.match(/<img [^>]*>/g)!.every((image) => /width="\d+" height="\d+" alt="[^"]+"/.test(image))).toBe(
        true,
      );
    }
  });

  it('a fluorescent bike stands on the page of its colour and on that of the ordinary one', () => {
    const { gallery } = planOf(galleryDay());
    const [one, ...rest] = gallery.riders.map((rider) => ({ ...rider, colours: ['black'] as readonly ColourName[] }));
    const pages = pagesOf({ ...gallery, riders: [{ ...one!, colours: ['fluorescent yellow'] }, ...rest] });
    const listed = (path: string) => pages.find((page) => page.path === path)?.html.includes(one!.publicId);
    expect(['colour-fluorescent-yellow.html', 'colour-yellow.html', 'colour-black.html'].map(listed)).toEqual([
      true,
      true,
      false,
    ]);
    const first = pages.find(({ path }) => path === 'index.html')!.html;
    expect(first).toContain('href="colour-fluorescent-yellow.html" data-colour="fluorescent-yellow"');
  });

  it('HO18: a part of a rider’s day is as wide as its pictures, four at most', () => {
    const { gallery } = planOf(galleryDay());
    const [one, ...rest] = gallery.riders;
    const [picture] = one!.pictures;
    const widthOf = (count: number) => {
      const pictures = Array.from({ length: count }, (_, i) => ({ ...picture!, id: `${picture!.id}${i}` }));
      const pages = pagesOf({ ...gallery, riders: [{ ...one!, pictures }, ...rest] });
      return pages.find((page) => page.path === `rider/${one!.publicId}.html`)!.html.match(/class="part (w\d)"/g);
    };
    expect([1, 2, 4, 9].flatMap(widthOf)).toEqual(['w1', 'w2', 'w4', 'w4'].map((width) => `class="part ${width}"`));
  });

  it('HO19: mark the rider’s own bike under a picture that shows another too, and say what the mark means', () => {
    const day = galleryDay();
    const { gallery } = planOf(day);
    const [one] = gallery.riders;
    const { frameId, id, box } = one!.pictures[0]!;
    const measured = day.pixels.get(frameId)!;
    if (measured.kind !== 'measured' || box === null) throw new Error('Expected a measured bike in the first picture.');
    const pageWith = (what: 'motorcycle' | 'person') => {
      const subjects = [...measured.subjects, { ...measured.subjects[0]!, what }];
      const pixels = new Map(day.pixels).set(frameId, { ...measured, subjects });
      const pages = pagesOf(planOf({ ...day, pixels }).gallery);
      return pages.find((page) => page.path === `rider/${one!.publicId}.html`)!.html;
    };
    const html = pageWith('motorcycle');
    expect(html.match(/class="which"/g)).toHaveLength(1);
    const [, shown, x, width] = /small\/([^.]+)\.jpg.*?<rect x="([\d.]+)" width="([\d.]+)"/.exec(html)!;
    expect(shown).toBe(id);
    expect([Number(x), Number(width)]).toEqual([expect.closeTo(box[0] * 100, 1), expect.closeTo(box[2] * 100, 1)]);
    expect(html).toContain('the bar under it is below yours');
    expect(pageWith('person')).not.toMatch(/class="which"|the bar under it/);
  });

  it('HO16: show the cut-out bike on a session’s page where the picture is of several riders', () => {
    const { gallery } = planOf(galleryDay());
    const [one, other, ...rest] = gallery.riders;
    const shared = one!.pictures.find((picture) => picture.session === 0)!;
    const both = { ...other!, pictures: [shared, ...other!.pictures.filter((picture) => picture.session !== 0)] };
    const pageOf = (riders: Gallery['riders']) =>
      pagesOf({ ...gallery, riders }).find((page) => page.path === 'session-n1.html')!.html;
    expect(pageOf(gallery.riders)).toContain(`small/${shared.id}.jpg`);
    const html = pageOf([one!, both, ...rest]);
    expect(html).not.toContain(`small/${shared.id}.jpg`);
    for (const rider of [one!, both]) expect(html).toContain(`face/${rider.faceId}.jpg`);
  });

  it('HO9: lead nobody to numbers where none is known', () => {
    const { gallery } = planOf(galleryDay());
    const pages = pagesOf({ ...gallery, riders: gallery.riders.map((rider) => ({ ...rider, number: null })) });
    for (const page of pages) expect(page.html).not.toContain('numbers.html');
    expect(pages.find((page) => page.path === 'index.html')!.html).toContain('Start again');
  });

  it('write hostile words as text, never as markup', () => {
    const words = '"><script>alert(1)</script>';
    const state = { ...galleryDay({ about: { r0: { livery: words, number: words } } }) };
    const gallery = planOf({ ...state, about: { ...state.about, name: words, creator: words } }, words).gallery;
    for (const page of pagesOf(gallery)) expect(page.html).not.toContain('<script>alert');
  });
});

function planOf(
  state: ReturnType<typeof galleryDay>,
  contact = 'pictures@quill.invalid',
): { gallery: Gallery; decisions: readonly Decision[] } {
  const proofs = new Map(state.arrangement.exposures.map((one) => [one.frameId, { widthPx: 1400, heightPx: 933 }]));
  return planGallery({ ...state, edition: 'e', contact, proofs, publicIdOf: idOf, mint: mintWith(SECRET) });
}

describe('public addresses', () => {
  it('HO1: are keyed: another secret gives other ones, the same secret the same', () => {
    const other = publicIdsOf('cd'.repeat(32));
    expect(idOf('frame', 'f')).toMatch(/^[0-9a-f]{32}$/);
    expect(idOf('frame', 'f')).toBe(publicIdsOf(SECRET)('frame', 'f'));
    expect(new Set([idOf('frame', 'f'), idOf('face', 'f'), idOf('rider', 'f'), other('frame', 'f')]).size).toBe(4);
  });

  it('HO2: come from a secret of 256 bits made once for a meeting, even by two at once', async () => {
    const folder = join(root, 'secretive');
    const [a, b] = await Promise.all([meetingSecret(folder), meetingSecret(folder)]);
    expect(a).toMatch(/^[0-9a-f]{64}$/);
    expect(b).toBe(a);
    expect(await meetingSecret(folder)).toBe(a);
    expect(await readdir(join(folder, 'people'))).toEqual(['gallery.secret']);
    await writeFile(join(folder, 'people/gallery.secret'), '{}');
    await expect(meetingSecret(folder)).rejects.toThrow(/Restore it from the second disk/);
  });

  it('HO4: riders are minted by publishing, and the snapshot is handed to the caller once', async () => {
    const day = galleryDay();
    expect(first.decisions.filter((one) => one.kind === 'rider-minted')).toHaveLength(6);
    expect(Object.keys(publishedBy(first).riders)).toContain(riderIdOf(day, 'r0'));
    const about = Object.fromEntries(
      day.arrangement.riders.map((rider) => [rider.key, { id: riderIdOf(day, rider.key) }]),
    );
    const again = await make(await copyOf('again'), { decisions: first.decisions, about });
    expect(again).toMatchObject({ decisions: [], picturesMade: 0, removed: 0 });
    for (const one of first.decisions.filter((decision) => decision.kind === 'rider-minted'))
      expect(one.rider).toBe(riderIdOf(day, one.shownAs!));
  });

  it('HO5: of riders who were merged, separated or are gone say so', () => {
    const day = galleryDay();
    const [r0, r2] = [riderIdOf(day, 'r0'), riderIdOf(day, 'r2')];
    const published = publishedBy(planOf(day));
    const merged = planOf(
      galleryDay({ decisions: [published], sameAs: { r2: 'r0' }, about: { r0: { id: r0, aliases: [r2] } } }),
    );
    const moved = merged.gallery.oldAddresses.find((one) => one.publicId === idOf('rider', r2));
    expect(moved).toMatchObject({ kind: 'moved', to: [idOf('rider', r0)] });
    const html = pagesOf(merged.gallery).find((page) => page.path === `rider/${idOf('rider', r2)}.html`)!.html;
    expect(html).toContain(`href="${idOf('rider', r0)}.html"`);

    const both = [...published.riders[r0]!, ...published.riders[r2]!];
    const wasOne: Decision = { kind: 'published', edition: 'e', riders: { [r0]: both, 'long-gone': [fileIdOf(999)] } };
    const split = planOf(galleryDay({ decisions: [wasOne], about: { r0: { id: r0 }, r2: { id: r2 } } })).gallery;
    expect(split.riders.find((one) => one.id === r0)!.separated).toEqual([idOf('rider', r2)]);
    expect(split.oldAddresses).toContainEqual({ publicId: idOf('rider', 'long-gone'), kind: 'gone', to: [] });
    const own = pagesOf(split).find((page) => page.path === `rider/${idOf('rider', r0)}.html`)!.html;
    expect(own).toContain('have been separated');
  });

  it('HO1: refuse another secret than the one the edition was made with', async () => {
    const refused = make(await copyOf('other-secret'), { decisions: first.decisions }, { secret: 'cd'.repeat(32) });
    await expect(refused).rejects.toThrow(/Put back people\/gallery.secret/);
  });

  it('refuse an edition that cannot be a folder', async () => {
    const refused = make(template, {}, { edition: '../elsewhere' });
    await expect(refused).rejects.toThrow(GalleryError);
    await expect(refused).rejects.toThrow(/but got "..\/elsewhere"/);
  });
});

describe('taking down', () => {
  it('HO3: a frame goes from every edition at once, and stays away in later runs', async () => {
    const folder = await copyOf('frame-down');
    await make(folder, {}, { edition: 'later' });
    const day = galleryDay();
    const frame = day.keepers.byRider.values().next().value![0]!.bike.frameId;
    const file = day.arrangement.exposures.find((one) => one.frameId === frame)!.mainFile;
    const decisions: Decision[] = [
      { kind: 'take-down', file },
      { kind: 'keep', file },
    ];
    for (let run = 0; run < 2; run++) await make(folder, { decisions }, { edition: 'later' });
    for (const edition of ['2026-09-19', 'later']) {
      const gallery = join(folder, 'made/gallery', edition);
      for (const id of [idOf('frame', frame), idOf('face', frame)]) {
        expect(
          (await filesIn(gallery)).filter((path) => path.includes(id)),
          edition,
        ).toEqual([]);
        for (const { path, html } of await pagesIn(gallery))
          expect(html.includes(id), `${edition}/${path}`).toBe(false);
      }
    }
    const proofs = await readdir(join(folder, 'made/proofs'));
    expect(proofs.filter((name) => name.startsWith(frame))).toEqual([]);
  });

  it('HO3: a rider goes with all frames, also under an old name and when the frames are arranged elsewhere now', async () => {
    const folder = await copyOf('rider-down');
    const day = galleryDay();
    const down = riderIdOf(day, 'r0');
    const decisions: Decision[] = [...first.decisions, { kind: 'take-down', rider: down }];
    const named = await make(folder, { decisions, about: { r0: { id: 'new-name', aliases: [down] } } });
    expect(named.riders).toBe(5);
    const rearranged = await make(folder, { decisions, sameAs: { r0: 'r1' } });
    const pages = (await pagesIn(rearranged.folder)).map(({ html }) => html).join('');
    const frames = day.keepers.byRider
      .values()
      .next()
      .value!.map((keeper) => keeper.bike.frameId);
    for (const frame of frames) expect(pages).not.toContain(idOf('frame', frame));
    expect(existsSync(join(rearranged.folder, 'rider', `${idOf('rider', down)}.html`))).toBe(false);
  });
});

describe('making a gallery', () => {
  it('HO11: goes on where it was stopped, and leaves no half file', async () => {
    const folder = join(root, 'stopped');
    await cp(join(template, 'cards'), join(folder, 'cards'), { recursive: true });
    const stop = new AbortController();
    const halted = await make(
      folder,
      {},
      { signal: stop.signal, onProgress: ({ part, count }) => part === 'pictures' && count === 5 && stop.abort() },
    );
    expect(halted).toMatchObject({ wasStopped: true, decisions: [] });
    // What the children had in hand is finished.
    expect(halted.picturesMade).toBeGreaterThanOrEqual(5);
    const resumed = await make(folder);
    expect(resumed.wasStopped).toBe(false);
    expect(resumed.picturesMade).toBe(first.picturesMade - halted.picturesMade);
    expect((await filesIn(resumed.folder)).filter((path) => path.includes('unfinished'))).toEqual([]);
    expect([...(await filesIn(resumed.folder))].sort()).toEqual([...(await filesIn(first.folder))].sort());
  });

  it('HO11: removes its own files that are no longer shown, and nothing that somebody put beside them', async () => {
    const folder = await copyOf('fewer');
    const gallery = join(folder, 'made/gallery/2026-09-19');
    await writeFile(join(gallery, 'note-of-mine.html'), 'mine');
    const fewer = await make(folder, { riders: 5 });
    expect(fewer.riders).toBe(5);
    expect(fewer.removed).toBeGreaterThan(0);
    expect(existsSync(join(gallery, 'note-of-mine.html'))).toBe(true);
    expect(existsSync(join(gallery, 'rider', `${idOf('rider', riderIdOf(galleryDay(), 'r5'))}.html`))).toBe(false);
  });

  it('costs a bad frame only itself', async () => {
    const folder = join(root, 'bad');
    await cp(join(template, 'cards'), join(folder, 'cards'), { recursive: true });
    const kept = galleryDay().keepers.byRider.values().next().value![0]!.bike.frameId;
    const bad = galleryDay().arrangement.exposures.find((one) => one.frameId === kept)!;
    await writeFile(join(folder, 'cards/a1', bad.path), 'no picture');
    const report = await make(folder);
    expect(report.failed).toHaveLength(1);
    expect(report).toMatchObject({ riders: 6, pictures: first.pictures - 1 });
  });

  it('crops a rider’s face about the bike, in 4:3, inside the picture', async () => {
    const all = (await readdir(join(first.folder, 'face'))).map((name) => join(first.folder, 'face', name));
    const faces = all.filter((path) => path.endsWith('.jpg'));
    expect(faces).toHaveLength(6);
    expect(await sharp(faces[0]).metadata()).toMatchObject({ width: 480, height: 360 });
    for (const size of [
      { widthPx: 1400, heightPx: 933 },
      { widthPx: 933, heightPx: 1400 },
      { widthPx: 300, heightPx: 100 },
    ]) {
      for (const box of [null, [0, 0, 0.1, 0.1], [0.9, 0.9, 0.1, 0.1], [0, 0, 1, 1]] as const) {
        const { left, top, width, height } = faceRegion(box, size);
        expect(left).toBeGreaterThanOrEqual(0);
        expect(top).toBeGreaterThanOrEqual(0);
        expect(left + width).toBeLessThanOrEqual(size.widthPx);
        expect(top + height).toBeLessThanOrEqual(size.heightPx);
      }
    }
  });
});

const CHROMIUM = '/usr/bin/chromium';
const hasBrowser = existsSync(CHROMIUM);
if (!hasBrowser && process.env.REQUIRE_ORACLES === '1')
  throw new Error(`Expected a browser at ${CHROMIUM} for the gallery's tests.`);
if (!hasBrowser) console.warn(`SKIPPED: no browser at ${CHROMIUM}; 5 tests of the gallery in a browser were not made.`);

describe.skipIf(!hasBrowser)('a gallery in a browser', () => {
  let browser: Browser;
  let server: Server;
  let site: string;
  beforeAll(async () => {
    browser = await chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox'] });
    server = createServer(async (request, response) => {
      const path = normalize(decodeURIComponent(new URL(request.url!, 'http://x').pathname)).replace(
        /\/$/,
        '/index.html',
      );
      const types: Record<string, string> = {
        '.html': 'text/html',
        '.css': 'text/css',
        '.js': 'text/javascript',
        '.jpg': 'image/jpeg',
        '.woff2': 'font/woff2',
        '.webp': 'image/webp',
        '.avif': 'image/avif',
      };
      const bytes = await readFile(join(first.folder, path)).catch(() => null);
      response.writeHead(bytes ? 200 : 404, { 'content-type': types[extname(path)] ?? 'text/plain' }).end(bytes);
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    site = `http://127.0.0.1:${(server.address() as AddressInfo).port}/`;
  });
  afterAll(async () => {
    await browser.close();
    server.close();
  });

  it('HO6: leads from the first page to a rider’s day and to a picture with scripts off', async () => {
    const page = await browser.newPage({ javaScriptEnabled: false, viewport: { width: 390, height: 844 } });
    await page.goto(site);
    await page.getByRole('link', { name: /session N1, 09:00, 3 riders/ }).click();
    expect(page.url()).toContain('session-n1.html');
    await page.locator('.riders a').first().locator('img').click();
    expect(await page.locator('h1').textContent()).toBe('Your day, 2 pictures.');
    await page.getByRole('link', { name: 'All riders', exact: true }).click();
    await page.getByRole('link', { name: 'orange', exact: true }).click();
    expect(await page.locator('.riders li').count()).toBe(1);
    await page.locator('.riders a').first().click();
    const picture = await page.locator('.pictures a').first().getAttribute('href');
    expect((await page.request.get(new URL(picture!, page.url()).href)).headers()['content-type']).toBe('image/jpeg');
    await page.close();
  });

  it('finds riders on the first page with scripts on, by mouse and by keys, and breaks no rule of its own', async () => {
    const page = await browser.newPage();
    const wrong: string[] = [];
    const asked: string[] = [];
    page.on('console', (message) => message.type() === 'error' && wrong.push(message.text()));
    page.on('pageerror', (error) => wrong.push(error.message));
    page.on('request', (request) => asked.push(request.url()));
    await page.goto(site, { waitUntil: 'networkidle' });
    const says = (text: string) => page.locator('#fits').filter({ hasText: text }).waitFor();
    await page.getByRole('button', { name: 'orange' }).click();
    await says('1 rider fits. Tap once on yours. 2 more are near.');
    await page.getByRole('button', { name: 'blue' }).press(' ');
    await says('2 riders fit.');
    await page.getByRole('button', { name: 'Start again' }).click();
    await page.getByLabel('A number on it?').fill('7');
    await says('1 rider fits. Tap once on yours.');
    expect(await page.locator('.riders li:visible').count()).toBe(1);
    expect(wrong.filter((text) => !text.includes('favicon') && !text.includes('404'))).toEqual([]);
    expect(asked.filter((url) => !url.startsWith(site))).toEqual([]);
    await page.close();
  });

  it('HO15: shows the same choice again when one comes back from a rider who was somebody else', async () => {
    const page = await browser.newPage();
    await page.goto(site);
    await page.getByRole('button', { name: 'orange' }).click();
    await page.getByLabel('A number on it?').fill('7');
    const fits = page.locator('#fits').filter({ hasText: '1 rider fits.' });
    await fits.waitFor();
    await page.goto(`${site}numbers.html`);
    await page.goBack();
    await fits.waitFor();
    expect(await page.getByRole('button', { name: 'orange' }).getAttribute('aria-pressed')).toBe('true');
    expect(await page.getByLabel('A number on it?').inputValue()).toBe('7');
    await page.close();
  });

  it.each([
    [1440, 900, 'light', 'rgb(250, 250, 246)'],
    [390, 844, 'light', 'rgb(250, 250, 246)'],
    [1440, 900, 'dark', 'rgb(20, 24, 26)'],
    [390, 844, 'dark', 'rgb(20, 24, 26)'],
  ] as const)(
    'HO17: has nothing serious against it by axe at %d × %d, %s, and nothing wider than the screen',
    async (width, height, colorScheme, paper) => {
      const axe = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
      const page = await browser.newPage({ viewport: { width, height }, colorScheme });
      const rider = (await readdir(join(first.folder, 'rider')))[0];
      for (const path of ['index.html', 'session-n1.html', 'colour-orange.html', 'numbers.html', `rider/${rider}`]) {
        await page.goto(site + path);
        expect(await page.evaluate('getComputedStyle(document.body).backgroundColor')).toBe(paper);
        await page.evaluate(axe);
        const found = await page.evaluate<Axe>('axe.run()');
        const serious = found.violations.filter(({ impact }) => impact === 'serious' || impact === 'critical');
        expect(found.passes.length).toBeGreaterThan(10);
        expect(serious.map((one) => `${path}: ${one.id} ${one.nodes.map((node) => node.html).join(' ')}`)).toEqual([]);
        expect(await page.evaluate('document.documentElement.scrollWidth - window.innerWidth')).toBeLessThanOrEqual(0);
      }
      await page.close();
    },
  );

  it('works opened from the disk, without a server', async () => {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
    await page.goto(`file://${first.index}`);
    const loaded = "document.fonts.ready.then((fonts) => [...fonts].filter((font) => font.status === 'loaded').length)";
    expect(await page.evaluate(loaded)).toBeGreaterThan(0);
    expect(await page.locator('#ask').isVisible()).toBe(true);
    expect((await stat(first.index)).size).toBeLessThan(100_000);
    await page.close();
  });
});

interface Axe {
  readonly violations: readonly {
    readonly id: string;
    readonly impact: string;
    readonly nodes: readonly { readonly html: string }[];
  }[];
  readonly passes: readonly unknown[];
}
