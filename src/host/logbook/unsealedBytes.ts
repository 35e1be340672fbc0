/**
 * The same check as core's `unsealed`, on bytes: measurements are a hundred times as long as decisions, and the
 * platform's own CRC-32 reads 100 MB of them in the time that core's takes for 10.
 */
import { crc32 } from 'node:zlib';
import type { Unsealed } from '../../core/log/index.js';

/** `,"crc32":"cbf43926"}` */
const SEAL_LENGTH = 20;
const SEAL = /^,"crc32":"([0-9a-f]{8})"\}$/;
const CLOSED = Buffer.from('}');

export function unsealedBytes(line: Buffer): Unsealed {
  const bodyLength = Math.max(0, line.length - SEAL_LENGTH);
  const seal = SEAL.exec(line.toString('latin1', bodyLength));
  if (seal === null) return { kind: 'damaged', why: 'it does not end in a checksum' };
  const received = crc32(CLOSED, crc32(line.subarray(0, bodyLength)));
  if (received !== Number.parseInt(seal[1] as string, 16)) return { kind: 'damaged', why: 'its checksum differs' };
  return { kind: 'whole', value: JSON.parse(`${line.toString('utf8', 0, bodyLength)}}`) as Record<string, unknown> };
}
