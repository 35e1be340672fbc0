/** A gallery written to a folder without making its pictures, and a plain server of files: for what scripts and pages do. */
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { dirname, extname, join, normalize } from 'node:path';
import { knownOfRiders, ownSetsOf, type PeopleKnown } from '../../src/core/handover/find/index.js';
import { planGallery } from '../../src/core/handover/index.js';
import { findFilesOf, ownPagesOf, pagesOf } from '../../src/gallery/index.js';
import { copyLook, readStyle } from '../../src/host/gallery/look.js';
import { mintWith, publicIdsOf } from '../../src/host/gallery/secret.js';
import { type GalleryDaySpec, galleryDay } from './galleryDay.js';

export const WRITTEN_SECRET = 'ab'.repeat(32);

export interface WrittenWish {
  readonly people?: PeopleKnown;
  readonly shop?: string;
  readonly address?: string;
}

export async function writeGallery(folder: string, spec: GalleryDaySpec, wish: WrittenWish = {}) {
  const day = galleryDay(spec);
  const publicIdOf = publicIdsOf(WRITTEN_SECRET);
  const kept = [...day.keepers.byRider.values()].flat();
  const { gallery } = planGallery({
    ...day,
    edition: 'written',
    contact: null,
    proofs: new Map(kept.map(({ bike }) => [bike.frameId, { widthPx: 1400, heightPx: 933 }])),
    publicIdOf,
    mint: mintWith(WRITTEN_SECRET),
  });
  const meeting = publicIdOf('meeting', day.about.id);
  const known = knownOfRiders(day.arrangement, day.log, wish.people ?? { persons: [], mayBeNamed: false });
  const { files, findable } = findFilesOf(gallery, known, meeting, 'en');
  const shop = wish.shop === undefined ? null : { address: wish.shop, meeting };
  const sets = ownSetsOf(gallery, day.arrangement.riders, day.log, publicIdOf);
  const style = await readStyle();
  const pages = [
    ...pagesOf(gallery, { shop, findable, style }),
    ...ownPagesOf(gallery, sets, { language: 'en', shop, style, address: wish.address ?? null }),
  ];
  for (const [path, text] of [...files, ...pages.map((page) => [page.path, page.html] as const)]) {
    await mkdir(dirname(join(folder, path)), { recursive: true });
    await writeFile(join(folder, path), text);
  }
  await mkdir(join(folder, 'look'), { recursive: true });
  await copyLook(folder);
  return { gallery, pages, files, sets, publicIdOf };
}

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.css': 'text/css',
  '.js': 'text/javascript',
  '.txt': 'text/plain; charset=utf-8',
  '.jpg': 'image/jpeg',
  '.webp': 'image/webp',
  '.avif': 'image/avif',
  '.woff2': 'font/woff2',
};

/** Serves files as they are, and counts what was asked for. */
export async function serveFiles(folder: string) {
  const asked: { readonly path: string; readonly bytes: number }[] = [];
  const server = createServer(async (request, response) => {
    const path = normalize(decodeURIComponent(new URL(request.url!, 'http://x').pathname)).replace(
      /\/$/,
      '/index.html',
    );
    const bytes = await readFile(join(folder, path)).catch(() => null);
    asked.push({ path, bytes: bytes?.length ?? 0 });
    response.writeHead(bytes ? 200 : 404, { 'content-type': TYPES[extname(path)] ?? 'text/plain' }).end(bytes);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    site: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`,
    asked,
    close: () => new Promise((resolve) => server.close(resolve)),
  };
}
