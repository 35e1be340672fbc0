/** Words of a made-up meeting, for tests of pictures. */
import type { PictureWords } from '../../../core/finish/index.js';

export const MADE_UP_WORDS: PictureWords = {
  title: null,
  keywords: [],
  creator: null,
  credit: 'R. Quill',
  copyright: null,
  event: 'Ebbstone',
  contact: null,
  usageTerms: 'Test.',
  captured: null,
};
