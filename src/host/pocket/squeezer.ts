/** Raw DEFLATE by zlib. */
import { promisify } from 'node:util';
import { deflateRaw, inflateRaw } from 'node:zlib';
import type { Squeezer } from '../../core/plan/pocket/index.js';

const BEST = 9;

export const zlibSqueezer: Squeezer = {
  squeeze: (bytes) => promisify(deflateRaw)(bytes, { level: BEST }),
  unsqueeze: (bytes, most) => promisify(inflateRaw)(bytes, { maxOutputLength: most }),
};
