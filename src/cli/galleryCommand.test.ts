import { expect, it } from 'vitest';
import { galleryCommand } from './galleryCommand.js';

it('FN33: an address or a language that is none is refused before anything is opened', async () => {
  await expect(galleryCommand('/nowhere', { shop: 'ftp://x.example' })).rejects.toThrow(
    /Expected a web address after --shop but got ftp:\/\/x.example/,
  );
  await expect(galleryCommand('/nowhere', { site: 'x.example' })).rejects.toThrow(/after --site but got x.example/);
  await expect(galleryCommand('/nowhere', { language: 'tlh' })).rejects.toThrow(
    /Expected one of en, de, fr, it, es, ar after --language but got tlh/,
  );
  await expect(galleryCommand('/nowhere', { contact: ' ' })).rejects.toThrow(
    /Expected where riders reach you after --contact/,
  );
});
