/** A set as one zip: names that people and every system can read, the terms of use beside the pictures. */
import { createHash } from 'node:crypto';
import { crc32 } from 'node:zlib';
import { termsOfSale } from '../../core/handover/law/index.js';
import type { HandedFile, LicenceKind, Offer } from '../../core/handover/orders/index.js';
import type { FinalAnswer } from './types.js';
import { type ZipEntry, type ZipLayout, zipLayout } from './zip/layout.js';
import { safeName } from './zip/names.js';

export interface SetZip extends ZipLayout {
  readonly name: string;
}

const LICENCES: readonly LicenceKind[] = ['personal', 'press', 'sponsor'];

/** Of what is ready. The same set gives the same bytes, for whomever and whenever. */
export function zipOf(
  files: readonly (HandedFile & { readonly answer: FinalAnswer })[],
  offer: Offer,
  language: string,
): SetZip {
  const folder = safeName(offer.title, 'pictures');
  const pictures = files.flatMap(({ answer, ...file }): readonly ZipEntry[] =>
    answer.kind === 'ready'
      ? [
          {
            name: `${folder}/${nameOf(file, offer)}`,
            bytes: answer.bytes,
            crc32: answer.crc32,
            sha256: answer.sha256,
            from: { path: answer.path },
          },
        ]
      : [],
  );
  return { ...zipLayout([...pictures, termsEntry(files, offer, folder, language)]), name: `${folder}.zip` };
}

export function nameOf({ number, day, licence }: HandedFile, { firstDay }: Pick<Offer, 'firstDay'>): string {
  const parts = [day ?? firstDay, String(number).padStart(3, '0'), ...(licence === 'personal' ? [] : [licence])];
  return `${parts.join('-')}.jpg`;
}

/** What a buyer may do with them, in the order's language; in each picture it stands in English, or as the photographer wrote it. */
function termsEntry(files: readonly HandedFile[], offer: Offer, folder: string, language: string): ZipEntry {
  const sold = LICENCES.filter((licence) => files.some((file) => file.licence === licence));
  const texts = sold.map((licence) => termsOfSale(licence, language, offer));
  const content = Buffer.from(texts.map((text) => `${text.trim()}\r\n`).join('\r\n'));
  const sha256 = createHash('sha256').update(content).digest('hex');
  return { name: `${folder}/terms.txt`, bytes: content.length, crc32: crc32(content), sha256, from: { content } };
}
