/** Notices when a volume that looks like a card appears, so that bringing in can start by itself. */
import { readdir, stat } from 'node:fs/promises';
import { userInfo } from 'node:os';
import { join } from 'node:path';

export interface CardWatch {
  stop(): void;
}

export interface WatchOptions {
  /** Folders under which the system puts volumes. */
  readonly roots?: readonly string[];
  readonly everyMs?: number;
  /** Tell of cards that are in already when the watch begins. */
  readonly includePresent?: boolean;
}

/** Where systems put volumes: macOS, and Linux desktops. Windows has letters; each is asked for. */
export function mountRoots(platform: NodeJS.Platform = process.platform): readonly string[] {
  if (platform === 'darwin') return ['/Volumes'];
  if (platform === 'win32') return [...'DEFGHIJKLMNOPQRSTUVWXYZ'].map((letter) => `${letter}:\\`);
  const { username } = userInfo();
  return [`/media/${username}`, `/run/media/${username}`, '/media', '/mnt'];
}

const defaultEveryMs = 1500;

/** A card is a volume with DCIM at its root; told once each time it appears. Taken out and put back, it is told again. */
export function watchForCards(onCard: (path: string) => void, options: WatchOptions = {}): CardWatch {
  const roots = options.roots ?? mountRoots();
  let present: ReadonlyMap<string, string> | null = options.includePresent ? new Map() : null;
  let isStopped = false;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const look = async (): Promise<void> => {
    const cards = await cardsUnder(roots);
    if (isStopped) return;
    if (present !== null) for (const [card, mark] of cards) if (present.get(card) !== mark) onCard(card);
    present = cards;
    timer = setTimeout(() => void look(), options.everyMs ?? defaultEveryMs);
    timer.unref();
  };
  void look();
  return {
    stop: () => {
      isStopped = true;
      clearTimeout(timer);
    },
  };
}

/** Cards and which volume each path is: another card under the same name is another card. */
async function cardsUnder(roots: readonly string[]): Promise<ReadonlyMap<string, string>> {
  const found = await Promise.all(roots.map(cardsIn));
  return new Map(found.flat());
}

async function cardsIn(root: string): Promise<readonly (readonly [string, string])[]> {
  const names = await readdir(root).catch(() => []);
  const volumes = [root, ...names.map((name) => join(root, name))];
  const marks = await Promise.all(volumes.map(markOf));
  return volumes.flatMap((volume, index) => (marks[index] === null ? [] : [[volume, marks[index]!] as const]));
}

const markOf = (volume: string): Promise<string | null> =>
  stat(join(volume, 'DCIM')).then(
    (found) => (found.isDirectory() ? `${found.dev}:${found.ino}:${found.birthtimeMs}` : null),
    () => null,
  );
