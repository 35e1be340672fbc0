/**
 * Which physical disks a folder stands on. Linux says so under /sys; elsewhere, and for memory, network and other
 * disks without a device, the answer is that it is not known, which proves nothing.
 */
import { readdir, readFile, realpath, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import type { Device } from '../../core/bringin/formatVerdict.js';

export async function deviceOf(folder: string): Promise<Device> {
  if (process.platform !== 'linux') return { kind: 'unknown', why: `${process.platform} does not tell this program` };
  try {
    const numbers = await blockNumbersOf(folder);
    if (numbers === null) return { kind: 'unknown', why: 'it is not a disk of this computer' };
    const disks = await physicalDisks(await realpath(`/sys/dev/block/${numbers}`));
    return { kind: 'known', disks: [...new Set(disks)].sort() };
  } catch {
    return { kind: 'unknown', why: 'the system does not say which disk it is' };
  }
}

/** `major:minor` of the block device below a folder. Btrfs and the like hide it; the mount table then tells. */
async function blockNumbersOf(folder: string): Promise<string | null> {
  const { dev } = await stat(folder);
  const numbers = numbersOf(dev);
  if (!numbers.startsWith('0:')) return numbers;
  const source = await mountSourceOf(numbers);
  if (source === null || !source.startsWith('/dev/')) return null;
  return numbersOf((await stat(source)).rdev);
}

/** Linux packs major and minor into one number (glibc's `gnu_dev_major`, `gnu_dev_minor`). */
function numbersOf(dev: number): string {
  const packed = BigInt(dev);
  const major = ((packed >> 8n) & 0xfffn) | ((packed >> 32n) & 0xfffff000n);
  const minor = (packed & 0xffn) | ((packed >> 12n) & 0xffffff00n);
  return `${major}:${minor}`;
}

async function mountSourceOf(numbers: string): Promise<string | null> {
  const lines = (await readFile('/proc/self/mountinfo', 'utf8')).split('\n');
  const line = lines.find((one) => one.split(' ')[2] === numbers);
  return line?.split(' - ')[1]?.split(' ')[1] ?? null;
}

/** A partition's parent; all members of a volume over several disks; the disk that holds a disk image. */
async function physicalDisks(device: string): Promise<readonly string[]> {
  const members = await readdir(join(device, 'slaves')).catch(() => []);
  if (members.length > 0) {
    const below = await Promise.all(
      members.map(async (name) => physicalDisks(await realpath(join(device, 'slaves', name)))),
    );
    return below.flat();
  }
  const image = (await readFile(join(device, 'loop', 'backing_file'), 'utf8').catch(() => '')).trim();
  if (image !== '') return disksBelowImage(image);
  const isPartition = await stat(join(device, 'partition')).catch(() => null);
  return [basename(isPartition === null ? device : dirname(device))];
}

async function disksBelowImage(image: string): Promise<readonly string[]> {
  const below = await deviceOf(dirname(image));
  if (below.kind === 'unknown') throw new Error(below.why);
  return below.disks;
}
